/** Turns what was typed or rung from into the keyed searches that a store answers. */
import { readBirthDate } from './birth-date.ts';
import type { PatientQuery } from './people-store.ts';
import { readTelephone } from './telephone.ts';

export interface SearchPlace {
  /** ISO 3166 alpha-2; where a telephone number without country code is dialled. */
  readonly country: string;
  /** The day at the practice, YYYY-MM-DD; nobody is born after it. */
  readonly today: string;
}

/** Letters with a stroke or joined letters have no accent to drop; passports write them so (ICAO Doc 9303-3). */
const WITHOUT_ACCENT: Readonly<Record<string, string>> = {
  ß: 'ss',
  æ: 'ae',
  œ: 'oe',
  ø: 'o',
  đ: 'd',
  ð: 'd',
  ħ: 'h',
  ı: 'i',
  ł: 'l',
  þ: 'th',
};

/** The form in which names are compared: lower-case letters only, without accents, spaces, hyphens, apostrophes. */
export function foldName(text: string): string {
  return text
    .normalize('NFKD')
    .toLowerCase()
    .normalize('NFKD')
    .replace(/[ßæœøđðħıłþ]/g, (letter) => WITHOUT_ACCENT[letter] ?? letter)
    .replace(/[^\p{L}]/gu, '');
}

/** Every search that the text can mean; none when it is no telephone number, birth date or name. */
export function readQuery(text: string, place: SearchPlace): readonly PatientQuery[] {
  const typed = text.slice(0, 100).trim();
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
