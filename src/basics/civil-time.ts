/**
 * Civil dates and clock times of a place and the UTC milliseconds they stand for; the only file that uses the date
 * library. Dates are `YYYY-MM-DD`, clock times `HH:MM` from 00:00 to 23:59, zones IANA names such as Europe/London.
 */
import { Temporal } from 'temporal-polyfill';
import type { Millis } from './clock.ts';
import { fault, type Fault } from './fault.ts';
import { failed, ok, type Result } from './result.ts';

export const MINUTE: Millis = 60_000;
export const HOUR: Millis = 60 * MINUTE;

/** Monday first, as ISO 8601 numbers them. */
export const WEEKDAYS = [
  'monday',
  'tuesday',
  'wednesday',
  'thursday',
  'friday',
  'saturday',
  'sunday',
] as const;
export type Weekday = (typeof WEEKDAYS)[number];

export interface CivilTime {
  readonly date: string;
  readonly clock: string;
  readonly weekday: Weekday;
}

const BAD_ZONE = fault(
  'bad-request',
  'The time zone is not known; accepted is an IANA name such as Europe/London.',
);
const BAD_DATE = fault('bad-request', 'The date does not exist; accepted is a calendar date as YYYY-MM-DD.');
const BAD_CLOCK = fault(
  'bad-request',
  'The clock time does not exist; accepted is HH:MM from 00:00 to 23:59.',
);
const BAD_INSTANT = fault('out-of-range', 'The time is not a whole number of UTC milliseconds.');

/** What the calendar and clock of the zone show at that moment. */
export function civilTime(at: Millis, zone: string): Result<CivilTime, Fault> {
  if (!isZone(zone)) return failed(BAD_ZONE);
  if (!isInstant(at)) return failed(BAD_INSTANT);
  return ok(at < WHOLE_MINUTES ? civilOf(at, zone) : civilOfMinute(at, zone));
}

function civilOf(at: Millis, zone: string): CivilTime {
  const there = Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone);
  return {
    date: there.toPlainDate().toString(),
    clock: there.toPlainTime().toString({ smallestUnit: 'minute', roundingMode: 'trunc' }),
    weekday: weekdayOfPlain(there),
  };
}

/** Since 1972-01-07 every zone is whole minutes away from UTC (IANA: Africa/Monrovia was the last). */
const WHOLE_MINUTES: Millis = Date.UTC(1972, 0, 8);
const MINUTES_KEPT = 1_000;
const minutes = new Map<string, CivilTime>();

/** The same few minutes are shown many times over. */
function civilOfMinute(at: Millis, zone: string): CivilTime {
  const key = `${zone} ${Math.floor(at / MINUTE)}`;
  const known = minutes.get(key);
  if (known !== undefined) return known;
  if (minutes.size >= MINUTES_KEPT) minutes.clear();
  const shown = Object.freeze(civilOf(at, zone));
  minutes.set(key, shown);
  return shown;
}

/**
 * The UTC millisecond of a civil date and time. Clocks put forward: a time that was skipped moves forward by the
 * length of the gap (01:30 becomes 02:30). Clocks put back: of a time that happens twice the earlier is taken.
 */
export function instantOf(date: string, clock: string, zone: string): Result<Millis, Fault> {
  if (!isZone(zone)) return failed(BAD_ZONE);
  const day = plainDate(date);
  if (day === null) return failed(BAD_DATE);
  if (!/^([01]\d|2[0-3]):[0-5]\d$/.test(clock)) return failed(BAD_CLOCK);
  const wall = day.toPlainDateTime(Temporal.PlainTime.from(clock));
  return ok(wall.toZonedDateTime(zone, { disambiguation: 'compatible' }).epochMilliseconds);
}

/** Whole calendar days from one date to another; negative when the second lies before the first. */
export function daysBetween(from: string, to: string): Result<number, Fault> {
  const first = plainDate(from);
  const last = plainDate(to);
  if (first === null || last === null) return failed(BAD_DATE);
  return ok(first.until(last, { largestUnit: 'day' }).days);
}

/** The date so many calendar days later; a negative number goes back. */
export function addDays(date: string, days: number): Result<string, Fault> {
  const day = plainDate(date);
  if (day === null) return failed(BAD_DATE);
  return ok(day.add({ days }).toString());
}

/** Elapsed hours, whatever the clocks of a place do meanwhile. */
export function addHours(at: Millis, hours: number): Millis {
  return at + hours * HOUR;
}

export function weekdayOf(date: string): Result<Weekday, Fault> {
  const day = plainDate(date);
  return day === null ? failed(BAD_DATE) : ok(weekdayOfPlain(day));
}

function weekdayOfPlain(day: { readonly dayOfWeek: number }): Weekday {
  const weekday = WEEKDAYS[day.dayOfWeek - 1];
  if (weekday === undefined) throw new Error('The calendar gave a weekday outside 1 to 7');
  return weekday;
}

function plainDate(date: string): Temporal.PlainDate | null {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(date)) return null;
  try {
    return Temporal.PlainDate.from(date);
  } catch {
    return null;
  }
}

function isInstant(at: Millis): boolean {
  return Number.isInteger(at) && Math.abs(at) <= 8.64e15;
}

/** Those that the library took once; there are only so many. */
const zones = new Set<string>();

// An offset such as +01:00 would be taken by the library, but knows nothing of clock changes.
function isZone(zone: string): boolean {
  if (zones.has(zone)) return true;
  if (!/^[A-Za-z]/.test(zone)) return false;
  try {
    Temporal.Instant.fromEpochMilliseconds(0).toZonedDateTimeISO(zone);
    zones.add(zone);
    return true;
  } catch {
    return false;
  }
}
