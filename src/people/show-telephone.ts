/** Writes a stored telephone number the way people of the practice's country dial and read it. */
import { parsePhoneNumberFromString } from 'libphonenumber-js';
import { readTelephone } from './telephone.ts';

/** National form inside `country` (ISO 3166 alpha-2), international form for others; as stored when it is no number. */
export function showTelephone(stored: string, country: string): string {
  const key = `${country} ${stored}`;
  const before = shown.get(key);
  if (before !== undefined) return before;
  if (shown.size === SHOWN_AT_MOST) shown.clear();
  const text = shownForm(stored, country);
  shown.set(key, text);
  return text;
}

// The numbers of the people on call stand in every answer, and reading one takes longer than all else in it.
const SHOWN_AT_MOST = 200;
const shown = new Map<string, string>();

function shownForm(stored: string, country: string): string {
  const number = parsePhoneNumberFromString(stored);
  if (number === undefined) return stored;
  const national = number.formatNational();
  return readTelephone(national, country) === number.number ? national : number.formatInternational();
}
