/** Which moments after surgery a flow can tell apart: all that its windows read alike are one class, proved once. */
import { LAST_DAY, holdsAt, type TimeSince, type Window } from '../clinical/window.ts';

/** Moments at which every window gives the same answer. */
export interface TimeClass {
  /** The one that is shown; a demo call can state it. */
  readonly at: TimeSince;
  readonly times: readonly TimeSince[];
}

const LAST_HOUR = 72;
/** A demo call that states only a day comes this long after the same hour of day 0. */
const DEMO_CALL_AFTER = 1;

/** Every day with unknown hours, every hour of the first 72 on each day it can fall on, and the unknown day. */
export const POSSIBLE_TIMES: readonly TimeSince[] = [
  ...count(LAST_DAY).map((day): TimeSince => ({ day, hours: null })),
  ...count(LAST_HOUR).flatMap((hours): TimeSince[] => {
    const day = Math.floor(hours / 24);
    return [
      { day, hours },
      { day: day + 1, hours },
    ];
  }),
  { day: null, hours: null },
];

/** By window, at which of the possible times it holds; flows share most of their windows. */
export type KnownWindows = Map<string, Uint8Array>;

/** Splits the possible times window by window; times that no window has parted are one class. */
export function timeClasses(
  windows: readonly Window[],
  known: KnownWindows = new Map(),
): readonly TimeClass[] {
  const classOf = new Int32Array(POSSIBLE_TIMES.length);
  let count = 1;
  for (const inside of distinctWindows(windows, known)) count = split(classOf, inside, count);
  const classes: TimeSince[][] = [];
  for (const [at, time] of POSSIBLE_TIMES.entries()) (classes[classOf[at] ?? 0] ??= []).push(time);
  return classes.map((times) => ({ at: shown(times), times }));
}

/** Parts each class into its times outside and inside a window, numbered as they come; answers how many there are now. */
function split(classOf: Int32Array, inside: Uint8Array, count: number): number {
  const numbers = new Int32Array(count * 2).fill(-1);
  let next = 0;
  for (let at = 0; at < classOf.length; at += 1) {
    const key = (classOf[at] ?? 0) * 2 + (inside[at] ?? 0);
    if (numbers[key] === -1) {
      numbers[key] = next;
      next += 1;
    }
    classOf[at] = numbers[key] ?? 0;
  }
  return next;
}

/** For each different window, at which of the possible times it holds. */
function distinctWindows(windows: readonly Window[], known: KnownWindows): ReadonlySet<Uint8Array> {
  const distinct = new Set<Uint8Array>();
  for (const window of windows) {
    const hours = window.hours === null ? '' : `${String(window.hours[0])}-${String(window.hours[1])}`;
    const key = `${String(window.days[0])}-${String(window.days[1])} ${hours}`;
    const inside =
      known.get(key) ?? Uint8Array.from(POSSIBLE_TIMES, (time) => (holdsAt(window, time) ? 1 : 0));
    known.set(key, inside);
    distinct.add(inside);
  }
  return distinct;
}

/** A day alone where a demo call that states it falls into the class, else a moment with hours, else any. */
function shown(times: readonly TimeSince[]): TimeSince {
  const [first] = times;
  if (first === undefined) throw new Error('A class of moments is empty');
  const plain = times.find(({ day, hours }) => day !== null && hours === null && isPlayedIn(times, day));
  return plain ?? times.find(({ hours }) => hours !== null) ?? first;
}

/** Whether the hours that a demo call of this day has are in the class as well. */
function isPlayedIn(times: readonly TimeSince[], day: number): boolean {
  const played = day * 24 + DEMO_CALL_AFTER;
  return played > LAST_HOUR || times.some((time) => time.day === day && time.hours === played);
}

export function timeText({ day, hours }: TimeSince): string {
  if (day === null) return 'the day unknown';
  return hours === null ? `day ${day}` : `day ${day}, ${hours} hours after surgery`;
}

function count(last: number): readonly number[] {
  return Array.from({ length: last + 1 }, (_, at) => at);
}
