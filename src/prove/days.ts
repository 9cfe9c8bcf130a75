/**
 * Property 6: days 0-365 are covered without a gap, and the outcome of the same answers on neighbouring days differs only
 * where a rule says so.
 *
 * An outcome depends on the time through the effects of rules alone, so the rules whose effect changes from one day to the
 * next are all that can make a difference; each change is listed.
 */
import { holdsAt, LAST_DAY, type TimeSince, type Window } from '../clinical/window.ts';
import { rankText } from './phrases.ts';
import { isCutAway } from './question-reach.ts';
import { findout, toProof, type Findout, type Proof } from './report.ts';
import { momentsByTime, type Subject } from './subject.ts';
import { NOTHING, type Moment } from './tables.ts';
import { POSSIBLE_TIMES, timeText } from './times.ts';

const LAST_HOUR = 72;

export function proveDays(subject: Subject): Proof {
  const found = findout();
  checkWindows(subject, found);
  checkCover(subject, found);
  listChanges(subject, found);
  return toProof(6, found);
}

function gap(found: Findout, at: TimeSince, says: string): void {
  found.counterexamples.push({ says, at, findings: {}, atLeast: null });
}

/** A question whose days a procedure's topic cuts away altogether stands the wrong way round and is never due (see reachable.ts). */
function checkWindows({ flow }: Subject, found: Findout): void {
  for (const { id, window } of [...flow.rules, ...flow.questions.filter((one) => !isCutAway(one.window))]) {
    found.cases += 1;
    if (isWithin(window.days, LAST_DAY) && (window.hours === null || isWithin(window.hours, LAST_HOUR)))
      continue;
    gap(
      found,
      { day: 0, hours: null },
      `${id} has days outside 0-${String(LAST_DAY)}, hours outside 0-${String(LAST_HOUR)}, or the wrong way round.`,
    );
  }
}

function isWithin([from, to]: readonly [number, number], last: number): boolean {
  return Number.isInteger(from) && Number.isInteger(to) && from >= 0 && from <= to && to <= last;
}

interface Covered {
  readonly what: string;
  readonly windows: readonly Window[];
}

/** What has to say or ask something at every moment. */
function checkCover({ flow, classes }: Subject, found: Findout): void {
  const kinds = new Set(flow.aftercare.map(({ kind, procedure }) => `${kind} of ${procedure}`));
  const aftercare = [...kinds].map((name): Covered => {
    const items = flow.aftercare.filter(({ kind, procedure }) => `${kind} of ${procedure}` === name);
    return { what: `aftercare on ${name}`, windows: items.map(({ window }) => window) };
  });
  const screen = flow.questions
    .filter(({ tier, kind }) => tier === 'screen' && kind === 'group')
    .map(({ id, window }): Covered => ({ what: `the danger screen (${id})`, windows: [window] }));
  const texts: readonly Covered[] = [
    { what: 'what is usual', windows: flow.normal.map(({ window }) => window) },
    { what: 'the safety-net', windows: flow.safetyNet.map(({ window }) => window) },
  ];
  if (screen.length === 0) gap(found, { day: 0, hours: null }, 'The flow has no danger screen.');
  for (const { what, windows } of [...screen, ...texts, ...aftercare]) {
    found.cases += classes.length;
    const empty = classes.find(({ at }) => !windows.some((window) => holdsAt(window, at)));
    if (empty !== undefined) gap(found, empty.at, `On ${timeText(empty.at)}, there is nothing for ${what}.`);
  }
}

/** Every step from one day, or one hour, to the next at which the effect of some rule changes. */
function listChanges(subject: Subject, found: Findout): void {
  const momentOf = momentsByTime(subject);
  const known = POSSIBLE_TIMES.filter(({ day }) => day !== null);
  const days = known.filter(({ hours }) => hours === null);
  const hours = known.filter(({ hours: hour, day }) => hour !== null && Math.floor(hour / 24) === day);
  for (const steps of [days, hours]) {
    for (const [at, time] of steps.entries()) {
      const before = steps[at - 1];
      if (before === undefined) continue;
      found.cases += 1;
      found.listed.push(...changes({ from: before, to: time }, momentOf.get(before), momentOf.get(time)));
    }
  }
}

interface Step {
  readonly from: TimeSince;
  readonly to: TimeSince;
}

function changes({ from, to }: Step, before?: Moment, after?: Moment): readonly string[] {
  if (before === undefined || after === undefined || before === after) return [];
  return before.tables.rules.flatMap(({ rule }, at) => {
    const was = effectText(before, at);
    const is = effectText(after, at);
    if (was === is) return [];
    return [`from ${timeText(from)} to ${timeText(to)}: ${rule.id} counts ${is}, before ${was}`];
  });
}

function effectText(moment: Moment, at: number): string {
  const points = moment.points[at] ?? 0;
  if (points > 0) return `${String(points)} points`;
  const rank = moment.ranks[at] ?? NOTHING;
  return rank === NOTHING ? 'nothing' : rankText(rank);
}
