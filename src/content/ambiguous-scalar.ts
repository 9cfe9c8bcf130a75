/** Which unquoted scalars are refused because readers disagree on them or a reader would change them. */

/** Read as a number exactly as written: no leading zero or plus, no exponent, no hexadecimal, 15 digits at most. */
const PLAIN_NUMBER = /^-?(?:0|[1-9]\d{0,14})(?:\.\d{1,10})?$/;
const DATE = /^(?:\d{4}-\d{1,2}-\d{1,2}(?:[Tt ].{0,40})?|\d{1,2}[/.]\d{1,2}[/.]\d{2,4})$/;
const CLOCK = /^\d{1,2}:\d{2}(?::\d{2})?$/;
const HASH = /^(?=.*\d)[0-9a-fA-F]{32,}$/;
const TELEPHONE = /^(?:\+|\(?0)[\d ()-]{5,}$/;

/** What the scalar seems to be, when it must stand in quotes; null when it may stand as it is. */
export function mustBeQuoted(written: string, value: unknown): string | null {
  if (TELEPHONE.test(written)) return 'a telephone number';
  if (DATE.test(written)) return 'a date';
  if (CLOCK.test(written)) return 'a time';
  if (HASH.test(written)) return 'a hash';
  if (typeof value === 'number' && !PLAIN_NUMBER.test(written)) return 'a number that reading would change';
  return null;
}
