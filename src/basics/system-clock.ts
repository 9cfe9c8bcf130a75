/** The only file that asks the machine for the time. */
import type { Clock } from './clock.ts';

export const systemClock: Clock = { now: () => Date.now() };
