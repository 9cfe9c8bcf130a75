/** A clock that stands still until a test moves it. */
import type { Clock, Millis } from '../../src/basics/clock.ts';

export interface FixedClock extends Clock {
  readonly moveTo: (time: Millis) => void;
  readonly moveBy: (millis: Millis) => void;
}

/** Starts at a UTC time, given as milliseconds or as ISO 8601 text with its offset. */
export function fixedClock(start: Millis | string): FixedClock {
  let time = typeof start === 'number' ? start : Date.parse(start);
  if (Number.isNaN(time)) throw new Error(`A clock cannot start at "${String(start)}"; ISO 8601 is accepted`);
  return {
    now: () => time,
    moveTo: (to) => {
      time = to;
    },
    moveBy: (millis) => {
      time += millis;
    },
  };
}
