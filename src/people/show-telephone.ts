/** Writes a stored telephone number the way people of the practice's country dial and read it. */
import { parsePhoneNumberFromString } from 'libphonenumber-js';
import { readTelephone } from './telephone.ts';

/** National form inside `country` (ISO 3166 alpha-2), international form for others; as stored when it is no number. */
export function showTelephone(stored: string, country: string): string {
  const number = parsePhoneNumberFromString(stored);
  if (number === undefined) return stored;
  const national = number.formatNational();
  return readTelephone(national, country) === number.number ? national : number.formatInternational();
}
