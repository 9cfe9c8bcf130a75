/** Whether the practice is open now, until when, and why it is not. */
import type { Millis } from '../basics/clock.ts';
import { civilTime } from '../basics/civil-time.ts';
import type { Practice } from '../people/practice.ts';
import type { PracticeAnswer } from './contract/practice.ts';

/** A time that cannot be read counts as closed: then nobody is promised a visit today. */
export function openingState(practice: Practice, now: Millis): PracticeAnswer['opening'] {
  const local = civilTime(now, practice.zone);
  if (!local.ok) return { open: false, until: null, because: null };
  const { date, clock, weekday } = local.value;
  const closed = practice.closedOn.find(({ on }) => on === date);
  if (closed !== undefined) return { open: false, until: null, because: closed.because };
  const hours = practice.openingHours[weekday];
  if (hours === null || clock < hours.opens || clock >= hours.closes) {
    return { open: false, until: null, because: null };
  }
  return { open: true, until: hours.closes, because: null };
}
