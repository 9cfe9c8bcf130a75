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

export function timeClasses(windows: readonly Window[]): readonly TimeClass[] {
  const distinct = [...new Map(windows.map((window) => [JSON.stringify(window), window])).values()];
  const classes = new Map<string, TimeSince[]>();
  for (const time of POSSIBLE_TIMES) {
    let signature = '';
    for (const window of distinct) signature += holdsAt(window, time) ? '1' : '0';
    const times = classes.get(signature);
    if (times === undefined) classes.set(signature, [time]);
    else times.push(time);
  }
  return [...classes.values()].map((times) => ({ at: shown(times), times }));
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
