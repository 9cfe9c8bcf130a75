/** How many combinations of answers come to what, before and after an edit, at one class of moments. */
import { canonicalJson } from '../../basics/json.ts';
import { LADDER, type Outcome } from '../../clinical/outcome.ts';
import { momentAt, type Moment, type Row } from '../tables.ts';
import type { TimeSince } from '../../clinical/window.ts';
import { countWays, type Counter, type Limits, type SumLimit } from './count-ways.ts';
import type { Joined } from './joined.ts';

/** Equal ends: the exact number. */
export interface Bounds {
  readonly low: bigint;
  readonly high: bigint;
}

export interface ThresholdCount {
  readonly concern: string;
  readonly points: number;
  readonly to: Outcome;
  /** A threshold of the one place and number in its concern; null: there is none. */
  readonly before: Bounds | null;
  readonly after: Bounds | null;
}

export interface OutcomeCounts {
  readonly combinations: bigint;
  /** By rank of the outcome, mildest first. */
  readonly before: readonly Bounds[];
  readonly after: readonly Bounds[];
  /** Combinations that move, for the pairs of ranks that some do move between. */
  readonly moved: readonly { readonly from: number; readonly to: number; readonly ways: Bounds }[];
}

const LEVELS = LADDER.map((_, rank) => rank);
const TOP = LADDER.length - 1;

export function isExact({ low, high }: Bounds): boolean {
  return low === high;
}

function exactly(ways: bigint): Bounds {
  return { low: ways, high: ways };
}

/** Every threshold of every concern of either flow. */
export function thresholdCounts(joined: Joined, counter: Counter, at: TimeSince): readonly ThresholdCount[] {
  const before = crossings(counter, momentAt(joined.before, at));
  const after = crossings(counter, momentAt(joined.after, at));
  return [...new Set([...before.keys(), ...after.keys()])].flatMap((key) => {
    const one = after.get(key) ?? before.get(key);
    if (one === undefined) return [];
    const { concern, points, to } = one;
    return [
      { concern, points, to, before: before.get(key)?.ways ?? null, after: after.get(key)?.ways ?? null },
    ];
  });
}

interface Crossing extends Pick<ThresholdCount, 'concern' | 'points' | 'to'> {
  readonly ways: Bounds;
}

/** By concern, outcome and condition of the threshold, so that a threshold that was moved stands beside itself. */
function crossings(counter: Counter, moment: Moment): ReadonlyMap<string, Crossing> {
  const total = totalWays(counter);
  const found = new Map<string, Crossing>();
  for (const [concern, one] of moment.tables.flow.concerns.entries()) {
    const rules = pointsRules(moment, concern);
    for (const [at, threshold] of one.thresholds.entries()) {
      const { points, to, when } = threshold;
      const rows = moment.tables.thresholds[concern]?.[at]?.when ?? null;
      const below = countWays(counter, {
        forbidden: [],
        sums: [{ rules, limits: [{ points, when: rows }] }],
      });
      const ways = below === null ? { low: 0n, high: total } : exactly(total - below);
      const key = canonicalJson([one.id, to, when]);
      found.set(found.has(key) ? `${key} ${String(points)}` : key, { concern: one.id, points, to, ways });
    }
  }
  return found;
}

function totalWays(counter: Counter): bigint {
  const ways = countWays(counter, { forbidden: [], sums: [] });
  if (ways === null) throw new Error('The combinations themselves cannot be counted');
  return ways;
}

function pointsRules({ tables, points }: Moment, concern: number): SumLimit['rules'] {
  return tables.rules.flatMap((rule, at) => {
    const given = points[at] ?? 0;
    return rule.concern === concern && given > 0 ? [{ rows: rule.rows, points: given }] : [];
  });
}

/** How many combinations come to each outcome, and how many move from which to which. */
export function outcomeCounts(
  joined: Joined,
  counter: Counter,
  { at, pairs }: { readonly at: TimeSince; readonly pairs: readonly RankPair[] },
): OutcomeCounts {
  const before = momentAt(joined.before, at);
  const after = momentAt(joined.after, at);
  const combinations = totalWays(counter);
  // Ways in which the outcome before lies at this rank or below, and the outcome after at that one or below.
  const known = remembered((old, now) =>
    waysUpTo(counter, [
      { moment: before, most: old },
      { moment: after, most: now },
    ]),
  );
  const cell = (old: number, now: number): Bounds =>
    minus(minus(known(old, now), known(old - 1, now)), minus(known(old, now - 1), known(old - 1, now - 1)));
  // The milder first: what is cheap to count is counted before the work comes to its end.
  const moved = pairs
    .toSorted((a, b) => a.from + a.to - b.from - b.to)
    .map(({ from, to }) => ({ from, to, ways: cell(from, to) }));
  return {
    combinations,
    before: LEVELS.map((old) => minus(known(old, TOP), known(old - 1, TOP))),
    after: LEVELS.map((now) => minus(known(TOP, now), known(TOP, now - 1))),
    moved,
  };
}

export interface RankPair {
  readonly from: number;
  readonly to: number;
}

/** Below the mildest outcome there is nothing. */
function remembered(find: (old: number, now: number) => Bounds): (old: number, now: number) => Bounds {
  const known = new Map<number, Bounds>();
  return (old, now) => {
    if (old < 0 || now < 0) return exactly(0n);
    const key = old * LADDER.length + now;
    const bounds = known.get(key) ?? find(old, now);
    known.set(key, bounds);
    return bounds;
  };
}

/** Never below nothing: what is counted lies inside what it is taken from. */
function minus(a: Bounds, b: Bounds): Bounds {
  const low = a.low - b.high;
  const high = a.high - b.low;
  return { low: low > 0n ? low : 0n, high: high > 0n ? high : 0n };
}

interface UpTo {
  readonly moment: Moment;
  readonly most: number;
}

/**
 * Exact where it fits the counter. Else the rules without points are counted together, and each concern with them; of
 * combinations that keep every limit there are no more than of those that keep one, and no fewer than are left when what
 * each concern takes away is taken away for all (Bonferroni's inequality).
 */
function waysUpTo(counter: Counter, sides: readonly UpTo[]): Bounds {
  if (sides.some(({ moment, most }) => moment.tables.floor > most)) return exactly(0n);
  const forbidden = [...new Map(sides.flatMap(forbiddenRows)).values()];
  const sums = sumsOf(sides);
  const ways = countWays(counter, { forbidden, sums });
  if (ways !== null) return exactly(ways);
  const alone = countWays(counter, { forbidden, sums: [] });
  if (alone === null) return { low: 0n, high: totalWays(counter) };
  let low = alone;
  let high = alone;
  for (const sum of sums) {
    const one = countWays(counter, { forbidden, sums: [sum] });
    low -= one === null ? alone : alone - one;
    if (one !== null && one < high) high = one;
  }
  return { low: low > 0n ? low : 0n, high };
}

/** Rows of rules that come to more, each once. */
function forbiddenRows({ moment, most }: UpTo): readonly (readonly [string, Row])[] {
  return moment.tables.rules.flatMap(({ rows }, at) =>
    (moment.ranks[at] ?? 0) > most ? rows.map((row): [string, Row] => [rowText(row), row]) : [],
  );
}

function rowText(row: Row): string {
  return row.map(({ finding, holds }) => `${String(finding)}:${holds.map(Number).join('')}`).join('&');
}

/** The limits of every concern; where both flows give the same points for the same answers they are one sum. */
function sumsOf(sides: readonly UpTo[]): Limits['sums'] {
  const sums = new Map<string, SumLimit>();
  for (const { moment, most } of sides) {
    for (const [concern, thresholds] of moment.tables.thresholds.entries()) {
      const limits = thresholds
        .filter(({ rank }) => rank > most)
        .map(({ points, when }) => ({ points, when }));
      const rules = pointsRules(moment, concern);
      if (limits.length === 0 || rules.length === 0) continue;
      const key = rules
        .map(({ rows, points }) => `${String(points)} ${rows.map(rowText).join('|')}`)
        .toSorted()
        .join('\n');
      const known = sums.get(key);
      sums.set(key, { rules, limits: distinctLimits([...(known?.limits ?? []), ...limits]) });
    }
  }
  return [...sums.values()];
}

/** Of limits without conditions only the lowest can be reached first. */
function distinctLimits(limits: SumLimit['limits']): SumLimit['limits'] {
  const plain = limits.filter(({ when }) => when === null).map(({ points }) => points);
  const lowest = Math.min(...plain);
  const others = limits.filter(({ when, points }) => when !== null && points < lowest);
  const byText = new Map(
    others.map((one) => [`${String(one.points)} ${(one.when ?? []).map(rowText).join('|')}`, one]),
  );
  return [...(plain.length === 0 ? [] : [{ points: lowest, when: null }]), ...byText.values()];
}
