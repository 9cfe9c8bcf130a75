/** Reads a birth date in the forms used in the United Kingdom: day before month, or year first. */
import { addDays, daysBetween } from '../basics/civil-time.ts';

const MONTHS = [
  'january',
  'february',
  'march',
  'april',
  'may',
  'june',
  'july',
  'august',
  'september',
  'october',
  'november',
  'december',
] as const;

/** Nobody is known to have lived longer than 122 years; common practice takes 120 as the limit of a record. */
const OLDEST_DAYS = 120 * 366;

const YEAR_FIRST = /^(\d{4})[-/. ](\d{1,2})[-/. ](\d{1,2})$/;
const DAY_FIRST = /^(\d{1,2})[-/. ](\d{1,2})[-/. ](\d{4}|\d{2})$/;
const DAY_AND_WORD = /^(\d{1,2})(?:st|nd|rd|th)?[-/. ]?(?:of )?([a-z]{3,9})[-/. ]*(\d{4}|\d{2})$/;
const WORD_AND_DAY = /^([a-z]{3,9})[. ]*(\d{1,2})(?:st|nd|rd|th)?[ .]+(\d{4}|\d{2})$/;
const RUN_TOGETHER = /^(\d{2})(\d{2})(\d{4}|\d{2})$/;
const RUN_TOGETHER_YEAR_FIRST = /^((?:19|20)\d{2})(\d{2})(\d{2})$/;

/**
 * Every day up to today that the text can mean, as YYYY-MM-DD; none when it is no date. A two-digit year gives each
 * century in which somebody could have been born, since guessing one would hide the other's record.
 */
export function readBirthDate(text: string, today: string): readonly string[] {
  const written = tidy(text);
  const dates = [...readYearFirst(written), ...readDayFirst(written), ...readMonthWord(written)];
  return [...new Set(dates)].filter((date) => isBirthDate(date, today));
}

function tidy(text: string): string {
  return text
    .slice(0, 40)
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[\u2010-\u2015\u2212]/g, '-')
    .replace(/,/g, ' ')
    .replace(/\s*([-/.])\s*/g, '$1')
    .replace(/\s+/g, ' ')
    .trim();
}

function readYearFirst(text: string): readonly string[] {
  const [, year, month, day] = YEAR_FIRST.exec(text) ?? RUN_TOGETHER_YEAR_FIRST.exec(text) ?? [];
  return combine(day, month, year);
}

function readDayFirst(text: string): readonly string[] {
  const [, day, month, year] = DAY_FIRST.exec(text) ?? RUN_TOGETHER.exec(text) ?? [];
  return combine(day, month, year);
}

function readMonthWord(text: string): readonly string[] {
  const [, day, word, year] = DAY_AND_WORD.exec(text) ?? [];
  const [, otherWord, otherDay, otherYear] = WORD_AND_DAY.exec(text) ?? [];
  return [...combine(day, monthNumber(word), year), ...combine(otherDay, monthNumber(otherWord), otherYear)];
}

function monthNumber(word: string | undefined): string | undefined {
  if (word === undefined) return undefined;
  const month = MONTHS.findIndex((name) => name.startsWith(word));
  return month < 0 ? undefined : String(month + 1);
}

function combine(
  day: string | undefined,
  month: string | undefined,
  year: string | undefined,
): readonly string[] {
  if (day === undefined || month === undefined || year === undefined) return [];
  const years = year.length === 4 ? [year] : [`19${year}`, `20${year}`];
  return years.map((full) => `${full}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`);
}

function isBirthDate(date: string, today: string): boolean {
  if (!addDays(date, 0).ok) return false;
  const age = daysBetween(date, today);
  return age.ok && age.value >= 0 && age.value <= OLDEST_DAYS;
}
