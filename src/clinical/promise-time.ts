/**
 * By when something promised with a `within` is due, from the practice's opening hours. The times are practice rules:
 * 1-hour 60 minutes (ringing begins in 20), same-day 6 hours and before closing, next-day 36 hours, planned-visit 14
 * days. Elapsed time is counted through clock changes; clock times are the practice's own.
 */
import { addDays, addHours, civilTime, instantOf, MINUTE, weekdayOf } from '../basics/civil-time.ts';
import type { Weekday } from '../basics/civil-time.ts';
import type { Millis } from '../basics/clock.ts';
import type { Fault } from '../basics/fault.ts';
import { ok, type Result } from '../basics/result.ts';
import type { Within } from './outcome.ts';

/** Clock times HH:MM of one day; it opens and closes on that day. */
export interface OpenDay {
  readonly opens: string;
  readonly closes: string;
}

export interface OpeningHours {
  /** IANA name of the practice's zone. */
  readonly zone: string;
  /** Null is closed. */
  readonly week: Readonly<Record<Weekday, OpenDay | null>>;
  /** Dates as YYYY-MM-DD on which the practice is closed whatever the weekday. */
  readonly closedDates: readonly string[];
}

export interface Promised {
  /** UTC milliseconds. */
  readonly now: Millis;
  readonly hours: OpeningHours;
  /** The least time that a visit needs before closing; 60 is common practice. */
  readonly visitMinutes: number;
}

export interface PromiseTime {
  /**
   * What the promise has become. A same-day that cannot be met is `1-hour`, and its outcome urgent-escalation; a
   * next-working-day that is too far away is `next-day`.
   */
  readonly within: Within;
  /** The first step is due: ringing has begun, a date was given. Null where there is none. */
  readonly beginBy: Millis | null;
  /** Spoken with, or seen, by then; null when nothing is promised (`none`). */
  readonly dueAt: Millis | null;
}

/** The due time of a `within`. Fails on an unknown zone or on dates and clock times that do not exist. */
export function promiseTime(within: Within, promised: Promised): Result<PromiseTime, Fault> {
  return DUE[within](promised);
}

/**
 * Whether someone can still be seen today. Cautious: the practice has to be open at the moment of the call, with time
 * for a visit before it closes. An opening later the same day does not count, even within 6 hours: what is seen then
 * has waited with nobody there, so at 03:00 the on-call clinician decides.
 */
export function sameDayCanBeMet({ now, hours, visitMinutes }: Promised): Result<boolean, Fault> {
  const opening = openingNow(now, hours);
  if (!opening.ok) return opening;
  return ok(opening.value !== null && now + visitMinutes * MINUTE <= opening.value.closesAt);
}

const DUE = {
  now: ({ now }) => ok({ within: 'now', beginBy: now, dueAt: now }),
  '1-hour': ({ now }) => ok(withinTheHour(now)),
  'same-day': sameDay,
  'next-day': ({ now }) => ok(nextDay(now)),
  'next-working-day': nextWorkingDay,
  'planned-visit': plannedVisit,
  none: () => ok({ within: 'none', beginBy: null, dueAt: null }),
} as const satisfies Readonly<Record<Within, (promised: Promised) => Result<PromiseTime, Fault>>>;

function withinTheHour(now: Millis): PromiseTime {
  return { within: '1-hour', beginBy: now + 20 * MINUTE, dueAt: addHours(now, 1) };
}

function nextDay(now: Millis): PromiseTime {
  return { within: 'next-day', beginBy: null, dueAt: addHours(now, 36) };
}

function sameDay(promised: Promised): Result<PromiseTime, Fault> {
  const { now, hours } = promised;
  const canBeMet = sameDayCanBeMet(promised);
  if (!canBeMet.ok) return canBeMet;
  const opening = openingNow(now, hours);
  if (!opening.ok) return opening;
  if (!canBeMet.value || opening.value === null) return ok(withinTheHour(now));
  return ok({ within: 'same-day', beginBy: null, dueAt: Math.min(addHours(now, 6), opening.value.closesAt) });
}

const MOST_HOURS_TO_NEXT_WORKING_DAY = 72;

// The next clinic day is the next one to open; the 72 hours run to its opening, so an ordinary weekend stays.
function nextWorkingDay({ now, hours }: Promised): Result<PromiseTime, Fault> {
  const openings = openingsAfter(now, hours, 1);
  if (!openings.ok) return openings;
  const next = openings.value[0];
  if (next === undefined || next.opensAt > addHours(now, MOST_HOURS_TO_NEXT_WORKING_DAY))
    return ok(nextDay(now));
  return ok({ within: 'next-working-day', beginBy: null, dueAt: next.closesAt });
}

const PLANNED_VISIT_HOURS = 14 * 24;

// Where two clinic days do not come within the 14 days, the date is due after two calendar days.
function plannedVisit({ now, hours }: Promised): Result<PromiseTime, Fault> {
  const openings = openingsAfter(now, hours, 2);
  if (!openings.ok) return openings;
  const beginBy = openings.value[1]?.closesAt ?? addHours(now, 48);
  return ok({ within: 'planned-visit', beginBy, dueAt: addHours(now, PLANNED_VISIT_HOURS) });
}

interface Opening {
  readonly opensAt: Millis;
  readonly closesAt: Millis;
}

function openingNow(now: Millis, hours: OpeningHours): Result<Opening | null, Fault> {
  const today = civilTime(now, hours.zone);
  if (!today.ok) return today;
  const opening = openingOn(today.value.date, hours);
  if (!opening.ok || opening.value === null) return opening;
  const { opensAt, closesAt } = opening.value;
  return ok(opensAt <= now && now < closesAt ? opening.value : null);
}

// Only openings that lie wholly ahead; it looks no further than a planned visit may lie.
function openingsAfter(now: Millis, hours: OpeningHours, count: number): Result<readonly Opening[], Fault> {
  const today = civilTime(now, hours.zone);
  if (!today.ok) return today;
  const found: Opening[] = [];
  for (let ahead = 0; ahead * 24 <= PLANNED_VISIT_HOURS && found.length < count; ahead += 1) {
    const date = addDays(today.value.date, ahead);
    if (!date.ok) return date;
    const opening = openingOn(date.value, hours);
    if (!opening.ok) return opening;
    if (opening.value !== null && opening.value.opensAt > now) found.push(opening.value);
  }
  return ok(found);
}

function openingOn(date: string, hours: OpeningHours): Result<Opening | null, Fault> {
  const weekday = weekdayOf(date);
  if (!weekday.ok) return weekday;
  const day = hours.week[weekday.value];
  if (day === null || hours.closedDates.includes(date)) return ok(null);
  const opensAt = instantOf(date, day.opens, hours.zone);
  if (!opensAt.ok) return opensAt;
  const closesAt = instantOf(date, day.closes, hours.zone);
  if (!closesAt.ok) return closesAt;
  return ok({ opensAt: opensAt.value, closesAt: closesAt.value });
}
