/**
 * By when a nurse rings after advice that no person gave: by 10:00 on the next open day, and within 24 hours on days 0
 * to 2 (practice rule).
 */
import { addDays, addHours, civilTime, instantOf, weekdayOf } from '../basics/civil-time.ts';
import type { Millis } from '../basics/clock.ts';
import type { OpeningHours } from './promise-time.ts';

const CHECK_BY = '10:00';
const DAYS_AHEAD = 14;
const EARLY_DAYS = 2;

/** `day` counts from surgery; null is not known and counts as early. Never later than a clinic day can be found. */
export function nurseCheckTime(day: number | null, now: Millis, hours: OpeningHours): Millis {
  const morning = nextMorning(now, hours);
  const soon = addHours(now, 24);
  if (morning === null) return soon;
  const isEarly = day === null || day <= EARLY_DAYS;
  return isEarly ? Math.min(morning, soon) : morning;
}

/** 10:00 (or the opening, where that is later) of the next day that opens after this moment; null without one. */
function nextMorning(now: Millis, hours: OpeningHours): Millis | null {
  const today = civilTime(now, hours.zone);
  if (!today.ok) return null;
  for (let ahead = 0; ahead <= DAYS_AHEAD; ahead += 1) {
    const date = addDays(today.value.date, ahead);
    const check = date.ok ? checkOn(date.value, hours) : null;
    if (check !== null && check.opensAt > now) return Math.max(check.opensAt, check.by);
  }
  return null;
}

function checkOn(
  date: string,
  hours: OpeningHours,
): { readonly opensAt: Millis; readonly by: Millis } | null {
  const weekday = weekdayOf(date);
  if (!weekday.ok) return null;
  const day = hours.week[weekday.value];
  if (day === null || hours.closedDates.includes(date)) return null;
  const opensAt = instantOf(date, day.opens, hours.zone);
  const by = instantOf(date, CHECK_BY, hours.zone);
  return opensAt.ok && by.ok ? { opensAt: opensAt.value, by: by.value } : null;
}
