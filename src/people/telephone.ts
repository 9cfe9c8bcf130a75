/** Reads a telephone number as anybody may write it into the one form that is stored and searched. */
import { isSupportedCountry, parsePhoneNumberFromString } from 'libphonenumber-js';

/**
 * E.164, or null when the text holds no number of a possible length. Only lengths are checked: numbers not yet given
 * out, and those kept for drama, are numbers too. `country` (ISO 3166 alpha-2) is where a number without country
 * code is dialled; an unknown country reads international numbers only.
 */
export function readTelephone(text: string, country: string): string | null {
  const home = isSupportedCountry(country) ? { defaultCountry: country } : {};
  const number = parsePhoneNumberFromString(text.slice(0, 60), home);
  return number?.isPossible() === true ? number.number : null;
}
