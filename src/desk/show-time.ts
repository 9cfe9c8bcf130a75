/** Shows a moment the way people at the practice say it: the clock time, and the day unless it is today. */
import type { Millis } from '../basics/clock.ts';
import { civilTime, daysBetween, type CivilTime } from '../basics/civil-time.ts';
import type { Moment } from './contract/common.ts';

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'] as const;
const NEAR: Readonly<Record<number, string>> = { [-1]: 'yesterday', 0: 'today', 1: 'tomorrow' };

export interface Here {
  readonly now: Millis;
  readonly zone: string;
}

/** `today 14:05`, `tomorrow 09:00`, else `Mon 2 Mar 2026 14:05`. A time that cannot be read is said to be unknown. */
export function moment(at: Millis, here: Here): Moment {
  const then = civilTime(at, here.zone);
  const now = civilTime(here.now, here.zone);
  if (!then.ok || !now.ok) return { at, shown: 'time not known' };
  const near = NEAR[daysAway(now.value.date, then.value.date)];
  return { at, shown: `${near ?? showDay(then.value)} ${then.value.clock}` };
}

/** Most of what is shown is of today; a date that cannot be read is near no other. */
function daysAway(from: string, to: string): number {
  if (from === to) return 0;
  const away = daysBetween(from, to);
  return away.ok ? away.value : Infinity;
}

/** `Mon 2 Mar 2026`. */
function showDay({ date, weekday }: CivilTime): string {
  const name = `${weekday.slice(0, 1).toUpperCase()}${weekday.slice(1, 3)}`;
  return `${name} ${showDate(date)}`;
}

/** `2 Mar 2026` for 2026-03-02; the text itself when it is no date. */
export function showDate(date: string): string {
  const [year, month, day] = date.split('-').map(Number);
  const name = MONTHS[(month ?? 0) - 1];
  return name === undefined || year === undefined || day === undefined ? date : `${day} ${name} ${year}`;
}
