/** Turns what was typed or rung from into the keyed searches that a store answers. */
import { foldName } from '../basics/fold-name.ts';
import { readBirthDate } from './birth-date.ts';
import type { PatientQuery } from './people-store.ts';
import { readTelephone } from './telephone.ts';

export interface SearchPlace {
  /** ISO 3166 alpha-2; where a telephone number without country code is dialled. */
  readonly country: string;
  /** The day at the practice, YYYY-MM-DD; nobody is born after it. */
  readonly today: string;
}

/** Every search that the text can mean; none when it is no telephone number, birth date or name. */
export function readQuery(text: string, place: SearchPlace): readonly PatientQuery[] {
  const typed = text.slice(0, 100).normalize('NFKC').trim();
  const born = readBirthDate(typed, place.today).map((date) => ({ by: 'born', born: date }) as const);
  const telephone = isTelephoneText(typed) ? readTelephone(typed, place.country) : null;
  if (telephone !== null) return [...born, { by: 'telephone', telephone }];
  if (born.length > 0 || /\d/.test(typed)) return born;
  return surnames(typed).map((surname) => ({ by: 'surname', surname }) as const);
}

// A date with slashes would be taken for a number too short to ring.
function isTelephoneText(text: string): boolean {
  return /\d/.test(text) && !/\d\/\d/.test(text);
}

/** "Smith, Anna" is a surname first; "Anna van der Berg" may end in a surname of one word or be one altogether. */
function surnames(text: string): readonly string[] {
  const [beforeComma = ''] = text.split(',');
  const last = beforeComma.trim().split(/\s+/).at(-1) ?? '';
  const folded = [foldName(beforeComma), foldName(last)];
  return [...new Set(folded)].filter((name) => name.length > 0 && !/^[a-z]$/.test(name));
}
