/**
 * Every regular expression that reads what a caller said. Each is one character class or a fixed sequence of them with
 * no repetition inside a repetition over the same letters, so that matching takes time in proportion to the text.
 */

/** A number with a decimal point or comma, a run of digits, or a word with what an apostrophe joins on. */
export const WORD = /\d{1,6}[.,]\d{1,3}|\d{1,9}|[\p{L}\p{M}]+(?:['\u2018\u2019\u02bc`]\p{L}+)*/gu;
/** What stands between two words and parts two thoughts. */
export const CLAUSE_END = /[.?!;:,()\n\u2026\u2013\u2014]|\s-\s/u;
export const SENTENCE_END = /[.?!;\n\u2026]/u;
export const APOSTROPHE = /['\u2018\u2019\u02bc`]/u;
export const MARKS = /\p{M}/gu;
export const DIGITS = /^\d+(?:[.,]\d+)?$/;
export const ONE_DIGIT = /^\d$/;
/** Two figures with only a dash or a slash between them: "7-8", "7/8", "8/10". */
export const DASH = /^\s?[-\u2013\u2014]\s?$/u;
export const SLASH = /^\s?\/\s?$/u;
