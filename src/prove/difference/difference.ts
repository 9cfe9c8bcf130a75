/**
 * What an edit of one flow changes: its words and rules, which outcomes move to which and on which days, and how many
 * combinations of answers come to what before and after.
 *
 * Moves are found exactly (moves.ts), each with a call that shows it with as few answers as will do, confirmed by the
 * deciding function. Counts are exact (count-ways.ts) as long as the budget lasts; what does not fit is given as bounds
 * that hold, and marked. Counted are the answers to all that some question of either flow settles: each value on the
 * finding's grid, unsure and not reached, dependents only where open.
 */
import type { Findings } from '../../clinical/finding.ts';
import { LADDER, rank, type Outcome } from '../../clinical/outcome.ts';
import type { TimeSince } from '../../clinical/window.ts';
import { assess } from '../../call/assess.ts';
import { freshCircumstances } from '../../call/circumstances.ts';
import type { CompiledFlow } from '../../flow/compiled.ts';
import { findingsOf } from '../domain.ts';
import { outcomeOfRank } from '../phrases.ts';
import { playedFindings } from '../playable.ts';
import { reachedCount } from '../side.ts';
import { standInsOf } from '../stand-ins.ts';
import { REAL_DECIDERS } from '../subject.ts';
import { momentAt } from '../tables.ts';
import type { TimeClass } from '../times.ts';
import { changesOf, type Change } from './changes.ts';
import { counterOf, type Counter } from './count-ways.ts';
import { outcomeCounts, thresholdCounts, type OutcomeCounts, type ThresholdCount } from './counts.ts';
import { daysText, joinedOf, type Joined } from './joined.ts';
import { movesAt, type MovesFound, type RankMove, type Stood } from './moves.ts';

/** What the exact computation may cost; past it there are bounds, or pairs of outcomes that stay undecided. */
export interface DifferenceBudget {
  /** Steps of the search for moves, for each class of days and each direction. */
  readonly steps: number;
  /** Partial results that a count may keep at a time. */
  readonly states: number;
  /** Partial results that may be made for the counts of outcomes of one class of days. */
  readonly work: number;
}

export const DIFFERENCE_BUDGET: DifferenceBudget = { steps: 50_000, states: 20_000, work: 400_000 };

/** Some combination of answers moves from one outcome to another. */
export interface Move {
  readonly from: Outcome;
  readonly to: Outcome;
  readonly example: ExampleCall;
}

export interface ExampleCall {
  readonly at: TimeSince;
  /** What the call establishes; everything else is answered with its normal value. */
  readonly findings: Findings;
  /** Whether a call on the new flow asks for all of it on that day. */
  readonly isAsked: boolean;
}

export interface DayClass {
  /** `days 3-14`. */
  readonly days: string;
  readonly at: TimeSince;
  readonly moves: readonly Move[];
  /** Pairs of outcomes of which it was not decided within the budget whether anything moves between them. */
  readonly undecided: readonly { readonly from: Outcome; readonly to: Outcome }[];
  /** Empty where nothing that gives points differs. */
  readonly thresholds: readonly ThresholdCount[];
  /** Null where nothing moves. */
  readonly outcomes: OutcomeCounts | null;
}

export interface Difference {
  readonly before: FlowName;
  readonly after: FlowName;
  readonly changes: readonly Change[];
  /** Only classes of days on which something counts differently. */
  readonly classes: readonly DayClass[];
  /** Days on which every combination comes to what it came to. */
  readonly unchangedDays: readonly string[];
  readonly budget: DifferenceBudget;
}

export interface FlowName {
  readonly id: string;
  readonly title: string;
  readonly hash: string;
  readonly procedures: readonly string[];
}

export function differenceOf(
  before: CompiledFlow,
  after: CompiledFlow,
  budget: DifferenceBudget = DIFFERENCE_BUDGET,
): Difference {
  const joined = joinedOf(before, after);
  const stood: Stood = {
    raised: standInsOf(after.flow, before.flow),
    lowered: standInsOf(before.flow, after.flow),
  };
  const counter = counterOf(joined.answers, budget.states);
  const flows = { before, after, joined };
  const classes: DayClass[] = [];
  const unchanged: string[] = [];
  for (const one of joined.classes) {
    const moments = { before: momentAt(joined.before, one.at), after: momentAt(joined.after, one.at) };
    const found = movesAt(moments, stood, budget.steps);
    const thresholds = found.isSame ? [] : thresholdCounts(joined, counter, one.at).filter(isChanged);
    if (isNothing(found) && thresholds.length === 0) unchanged.push(daysText(one));
    else classes.push(dayClass(flows, one, { found, thresholds, counter, budget }));
  }
  return {
    before: nameOf(before),
    after: nameOf(after),
    changes: changesOf(before.flow, after.flow),
    classes,
    unchangedDays: unchanged,
    budget,
  };
}

function nameOf({ flow: { id, title, procedures }, hash }: CompiledFlow): FlowName {
  return { id, title, hash, procedures };
}

function isNothing({ moves, undecided }: MovesFound): boolean {
  return moves.length === 0 && undecided.length === 0;
}

function isChanged({ before, after }: ThresholdCount): boolean {
  return before?.low !== after?.low || before?.high !== after?.high || before?.low !== before?.high;
}

interface TwoFlows {
  readonly before: CompiledFlow;
  readonly after: CompiledFlow;
  readonly joined: Joined;
}

interface Found {
  readonly found: MovesFound;
  readonly thresholds: readonly ThresholdCount[];
  readonly counter: Counter;
  readonly budget: DifferenceBudget;
}

function dayClass(flows: TwoFlows, one: TimeClass, { found, thresholds, counter, budget }: Found): DayClass {
  return {
    days: daysText(one),
    at: one.at,
    moves: found.moves
      .toSorted((a, b) => reachedCount(a.given) - reachedCount(b.given) || b.to - a.to)
      .map((move) => toMove(flows, one, move)),
    undecided: found.undecided.map(({ from, to }) => ({ from: outcomeOfRank(from), to: outcomeOfRank(to) })),
    thresholds,
    outcomes: isNothing(found) ? null : outcomesAt(flows.joined, one, { found, counter, budget }),
  };
}

/** Each class has its own share of work, so that none is left out for another. */
function outcomesAt(
  joined: Joined,
  { at }: TimeClass,
  { found, counter, budget }: Omit<Found, 'thresholds'>,
): OutcomeCounts {
  counter.work = budget.work;
  const counts = outcomeCounts(joined, counter, { at, pairs: [...found.moves, ...found.undecided] });
  counter.work = Infinity;
  return counts;
}

/** The deciding function has to say what the tables say; anything else is a mistake of this search. */
function toMove(flows: TwoFlows, { at, times }: TimeClass, { from, to, given }: RankMove): Move {
  const findings = findingsOf(flows.joined.domain, given);
  const isShown = (time: TimeSince, of: Findings): boolean =>
    rankAt(flows.before, time, of) === from && rankAt(flows.after, time, of) === to;
  if (!isShown(at, findings)) {
    throw new Error(`The deciding function does not move from rank ${String(from)} to rank ${String(to)}`);
  }
  const days = [
    at,
    ...times.filter(({ day, hours }) => day !== null && hours === null).slice(0, MOST_DAYS_TRIED),
  ];
  const asked = days.find((time) => {
    const played = playedFindings({ flow: flows.after.flow, deciders: REAL_DECIDERS }, time, findings);
    return played !== null && isShown(time, played);
  });
  return {
    from: outcomeOfRank(from),
    to: outcomeOfRank(to),
    example: { at: asked ?? at, findings, isAsked: asked !== undefined },
  };
}

/** A question has its own days within the class. */
const MOST_DAYS_TRIED = 3;

function rankAt({ flow }: CompiledFlow, at: TimeSince, findings: Findings): number {
  return rank(assess(flow, freshCircumstances(at), findings).outcome);
}

/** The shortest example of each move, over all days. */
export function shortestMoves({
  classes,
}: Difference): readonly (Move & { readonly days: readonly string[] })[] {
  const moves = classes.flatMap(({ days, moves: own }) => own.map((move) => ({ ...move, days })));
  return LADDER.flatMap((from) =>
    LADDER.flatMap((to) => {
      const same = moves.filter((move) => rank(move.from) === rank(from) && rank(move.to) === rank(to));
      const [best] = same.toSorted((a, b) => lengthOf(a) - lengthOf(b));
      return best === undefined ? [] : [{ ...best, days: same.map(({ days }) => days) }];
    }),
  );
}

/** Of two calls with as many answers, the one that is asked comes first. */
function lengthOf({ example }: Move): number {
  return Object.keys(example.findings).length + (example.isAsked ? 0 : 0.5);
}
