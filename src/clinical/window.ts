/** The days and hours since surgery on which something holds. */

/** Inclusive days since surgery (0 = the day itself) and, in the first 72 hours, inclusive whole hours. */
export interface Window {
  readonly days: readonly [number, number];
  readonly hours: readonly [number, number] | null;
}

/** How long since surgery; null is unknown. Day 0 is the day of surgery; hours are elapsed, whole. */
export interface TimeSince {
  readonly day: number | null;
  readonly hours: number | null;
}

export const LAST_DAY = 365;
/** "Within 12 weeks of surgery", read inclusively: days on which a clot counts with the operation (practice rule). */
export const LAST_CLOT_DAY = 84;
export const ALL_DAYS: Window = { days: [0, LAST_DAY], hours: null };

/**
 * Whether the window may hold now. An unknown day or hour may be inside, so it counts as inside. A window from day 0
 * holds before the operation too, and one to the last day holds after it: a call is never too early or too late for
 * its dangers.
 */
export function holdsAt(window: Window, time: TimeSince): boolean {
  const [from, to] = window.days;
  if (time.day !== null && from > 0 && time.day < from) return false;
  if (time.day !== null && to < LAST_DAY && time.day > to) return false;
  if (window.hours === null || time.hours === null) return true;
  return time.hours >= window.hours[0] && time.hours <= window.hours[1];
}

/** From the first day, and hour, of either to the last. */
export function hull(a: Window, b: Window): Window {
  const hours: Window['hours'] =
    a.hours === null || b.hours === null
      ? null
      : [Math.min(a.hours[0], b.hours[0]), Math.max(a.hours[1], b.hours[1])];
  return { days: [Math.min(a.days[0], b.days[0]), Math.max(a.days[1], b.days[1])], hours };
}

/** `0-14`, or `0-1, hours 0-24`. */
export function windowText(window: Window): string {
  const days = `days ${window.days[0]}-${window.days[1]}`;
  return window.hours === null ? days : `${days}, hours ${window.hours[0]}-${window.hours[1]}`;
}
