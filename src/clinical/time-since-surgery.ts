/** How long ago the operation was: the day the rules count by, and the hours where the end of surgery is known. */
import type { Millis } from '../basics/clock.ts';
import { civilTime, daysBetween, HOUR } from '../basics/civil-time.ts';
import type { Fault } from '../basics/fault.ts';
import { ok, type Result } from '../basics/result.ts';
import type { TimeSince } from './window.ts';

export interface OperationTime {
  /** The calendar day of surgery in the practice's zone, YYYY-MM-DD. */
  readonly on: string;
  /** UTC milliseconds of the end of surgery; null when it is not recorded. */
  readonly endedAt: Millis | null;
}

export interface KnownTime extends TimeSince {
  /**
   * Whole calendar days since the day of surgery in the practice's zone, which is day 0; negative before surgery.
   * (US surveillance calls the same day 1: NHSN day = this + 1, CDC/NHSN manual.)
   */
  readonly day: number;
  /**
   * Whole elapsed hours since surgery ended, counted through clock changes. Null when the end is not recorded, lies
   * ahead of the call or contradicts the day of surgery: an hour that cannot be right is unknown, not small.
   */
  readonly hours: number | null;
}

/** Day and hours since one operation. Fails on a date that does not exist or an unknown zone; nothing is guessed. */
export function timeSince(operation: OperationTime, now: Millis, zone: string): Result<KnownTime, Fault> {
  const today = civilTime(now, zone);
  if (!today.ok) return today;
  const day = daysBetween(operation.on, today.value.date);
  if (!day.ok) return day;
  const ended = endOf(operation, zone);
  if (!ended.ok) return ended;
  const { endedAt } = operation;
  const isKnown = endedAt !== null && endedAt <= now && ended.value.fits;
  const hours = isKnown ? Math.floor((now - endedAt) / HOUR) : null;
  return ok({ day: day.value, hours });
}

/**
 * Every reading of when surgery was, without repeats, the recorded one first. More than one means that the dates
 * disagree: the record against what was stated, or the recorded day against the recorded end. All are scored and the
 * worse counts. A stated date has no known end, unless it is the day on which the recorded end lies.
 */
export function timesSince(
  dates: StatedDates,
  now: Millis,
  zone: string,
): Result<readonly KnownTime[], Fault> {
  const { recorded, stated } = dates;
  const ended = endOf(recorded, zone);
  if (!ended.ok) return ended;
  const { date: endDate, fits } = ended.value;
  const readings: OperationTime[] = [recorded];
  if (endDate !== null && !fits) readings.push({ on: endDate, endedAt: recorded.endedAt });
  for (const on of stated) {
    if (!readings.some((reading) => reading.on === on)) readings.push({ on, endedAt: null });
  }
  const times: KnownTime[] = [];
  for (const reading of readings) {
    const time = timeSince(reading, now, zone);
    if (!time.ok) return time;
    times.push(time.value);
  }
  return ok(times);
}

export interface StatedDates {
  readonly recorded: OperationTime;
  /** Dates of surgery that a caller or letter gave, YYYY-MM-DD; empty when none was given. */
  readonly stated: readonly string[];
}

interface EndOfSurgery {
  readonly date: string | null;
  readonly fits: boolean;
}

// Surgery may run past midnight, so an end on the day after the day of surgery is no contradiction.
function endOf(operation: OperationTime, zone: string): Result<EndOfSurgery, Fault> {
  if (operation.endedAt === null) return ok({ date: null, fits: true });
  const end = civilTime(operation.endedAt, zone);
  if (!end.ok) return end;
  const after = daysBetween(operation.on, end.value.date);
  if (!after.ok) return after;
  return ok({ date: end.value.date, fits: after.value === 0 || after.value === 1 });
}
