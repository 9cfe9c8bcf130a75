/** Times at which a visit can be offered: half hours in opening hours, from half an hour ahead until it is due. */
import { addDays, civilTime, instantOf, MINUTE } from '../../basics/civil-time.ts';
import type { Millis } from '../../basics/clock.ts';
import type { Practice } from '../../people/practice.ts';

const HALF_HOUR = 30 * MINUTE;
const AT_MOST = 24;
/** Where nothing says by when, the next two weeks are offered. */
const DAYS = 14;

/** Empty when the clinic does not open in time. Whether a time is free, the clinic's own book says. */
export function visitSlots(practice: Practice, now: Millis, dueAt: Millis | null): readonly Millis[] {
  const today = civilTime(now, practice.zone);
  if (!today.ok) return [];
  const slots: Millis[] = [];
  for (let day = 0; day <= DAYS && slots.length < AT_MOST; day += 1) {
    const date = addDays(today.value.date, day);
    if (date.ok) slots.push(...slotsOn(practice, date.value));
  }
  const last = dueAt ?? Number.POSITIVE_INFINITY;
  return slots.filter((at) => at >= now + HALF_HOUR && at <= last).slice(0, AT_MOST);
}

function slotsOn(practice: Practice, date: string): readonly Millis[] {
  const noon = instantOf(date, '12:00', practice.zone);
  const day = noon.ok ? civilTime(noon.value, practice.zone) : noon;
  if (!day.ok || practice.closedOn.some(({ on }) => on === date)) return [];
  const hours = practice.openingHours[day.value.weekday];
  if (hours === null) return [];
  const opens = instantOf(date, hours.opens, practice.zone);
  const closes = instantOf(date, hours.closes, practice.zone);
  if (!opens.ok || !closes.ok) return [];
  const count = Math.floor((closes.value - opens.value) / HALF_HOUR);
  return Array.from({ length: count }, (_none, at) => opens.value + at * HALF_HOUR);
}
