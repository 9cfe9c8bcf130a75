/**
 * Which outcomes an edit moves to which, at one class of moments, each with as few answers as will show it.
 *
 * A call that ends higher in one flow does so through one part of it that nothing in the other stands in for. With nothing
 * reached but what that part looks at, the higher flow ends the same and the other no higher. If it then ends lower than
 * wanted, one more part of the lower flow lifts it there. So it is enough to go through the parts of the one, and for each
 * through the parts of the other.
 */
import type { Assignment } from '../domain.ts';
import { reachedCount } from '../side.ts';
import { doubtfulParts, isNothing, type StandIns } from '../stand-ins.ts';
import { NOTHING, rankOf, type Moment } from '../tables.ts';
import { generatorsOf, type Steps } from './generators.ts';

export interface RankMove {
  readonly from: number;
  readonly to: number;
  readonly given: Assignment;
}

export interface MovesFound {
  /** Every rule and threshold of either stands in the other: points come to the same as well. */
  readonly isSame: boolean;
  /** One for each pair of ranks that some answers move between. */
  readonly moves: readonly RankMove[];
  /** Pairs of ranks of which it was not decided whether any answers move between them. */
  readonly undecided: readonly { readonly from: number; readonly to: number }[];
}

export interface BeforeAndAfter {
  readonly before: Moment;
  readonly after: Moment;
}

/** For either flow as the higher one, what of it the other has. */
export interface Stood {
  readonly raised: StandIns;
  readonly lowered: StandIns;
}

/** Most answers tried together for one class; past it the rest is undecided. */
export function movesAt(
  { before, after }: BeforeAndAfter,
  { raised, lowered }: Stood,
  most: number,
): MovesFound {
  const up = higherCalls({ high: after, low: before }, raised, most);
  const down = higherCalls({ high: before, low: after }, lowered, most);
  return {
    isSame: up.isSame && down.isSame,
    moves: [
      ...up.found.map(({ low, high, given }) => ({ from: low, to: high, given })),
      ...down.found.map(({ low, high, given }) => ({ from: high, to: low, given })),
    ],
    undecided: [
      ...up.undecided.map(({ low, high }) => ({ from: low, to: high })),
      ...down.undecided.map(({ low, high }) => ({ from: high, to: low })),
    ],
  };
}

interface Ranks {
  readonly low: number;
  readonly high: number;
}

interface Higher extends Ranks {
  readonly given: Assignment;
}

interface Sides {
  readonly high: Moment;
  readonly low: Moment;
}

interface HigherCalls {
  readonly isSame: boolean;
  readonly found: readonly Higher[];
  readonly undecided: readonly Ranks[];
}

function higherCalls(sides: Sides, standIns: StandIns, most: number): HigherCalls {
  const parts = doubtfulParts(sides, standIns);
  if (isNothing(parts)) return { isSame: true, found: [], undecided: [] };
  const steps: Steps = { left: most };
  const { ways, gaveUp } = generatorsOf(sides.high, parts, steps);
  const bases = ways
    .map(({ given }): Higher => ({ given, ...ranksOf(sides, given) }))
    .filter(({ low, high }) => high > low)
    .toSorted((a, b) => reachedCount(a.given) - reachedCount(b.given));
  const known = new Map<string, Higher>();
  for (const base of bases) keepShorter(known, base);
  const lifts = liftsOf(sides.low, steps);
  const undecided: Ranks[] = [];
  for (const high of ranksBelow(8)) {
    const own = bases.filter((base) => base.high === high);
    for (const low of ranksBelow(high)) {
      const from = own.filter((base) => base.low < low);
      const lifted = lift(sides, { from, by: lifts.ways.get(low) ?? [], want: { low, high } }, known);
      const isOpen = gaveUp || (from.length > 0 && lifts.gaveUp) || !lifted;
      if (isOpen && !known.has(keyOf({ low, high }))) undecided.push({ low, high });
    }
  }
  return { isSame: false, found: [...known.values()], undecided };
}

function ranksBelow(rank: number): readonly number[] {
  return Array.from({ length: rank }, (_, at) => at);
}

function keyOf({ low, high }: Ranks): string {
  return `${String(low)} ${String(high)}`;
}

function ranksOf({ high, low }: Sides, given: Assignment): Ranks {
  return { high: rankOf(high, given), low: rankOf(low, given) };
}

function keepShorter(known: Map<string, Higher>, one: Higher): void {
  const before = known.get(keyOf(one));
  if (before === undefined || reachedCount(one.given) < reachedCount(before.given))
    known.set(keyOf(one), one);
}

interface Lifts {
  /** By rank, answers that bring the lower flow to just that, fewest first. */
  readonly ways: ReadonlyMap<number, readonly Assignment[]>;
  readonly gaveUp: boolean;
}

function liftsOf(low: Moment, steps: Steps): Lifts {
  const rules = low.ranks.flatMap((rank, at) => (rank > 0 ? [at] : []));
  const concerns = [...low.tables.thresholds.keys()];
  const { ways, gaveUp } = generatorsOf(low, { rules, concerns, floor: false }, steps);
  const byRank = new Map<number, Assignment[]>();
  for (const { given, rank } of ways) {
    if (rankOf(low, given) !== rank) continue;
    const known = byRank.get(rank);
    if (known === undefined) byRank.set(rank, [given]);
    else known.push(given);
  }
  for (const known of byRank.values()) known.sort((a, b) => reachedCount(a) - reachedCount(b));
  return { ways: byRank, gaveUp };
}

interface Lifting {
  readonly from: readonly Higher[];
  readonly by: readonly Assignment[];
  readonly want: Ranks;
}

/** Pairs that are tried for one pair of ranks at most. */
const MOST_PAIRS = 20_000;

/** False: given up before the pairs were gone through. */
function lift(sides: Sides, { from, by, want }: Lifting, known: Map<string, Higher>): boolean {
  let left = MOST_PAIRS;
  for (const base of from) {
    const size = reachedCount(base.given);
    for (const more of by) {
      const shortest = known.get(keyOf(want));
      if (shortest !== undefined && Math.max(size + 1, reachedCount(more)) >= reachedCount(shortest.given))
        break;
      left -= 1;
      if (left < 0) return false;
      const given = together(base.given, more);
      if (given === null) continue;
      const ranks = ranksOf(sides, given);
      if (ranks.low === want.low && ranks.high === want.high) keepShorter(known, { given, ...ranks });
    }
  }
  return true;
}

/** Null where the two answer a finding differently. */
function together(a: Assignment, b: Assignment): Assignment | null {
  const both = a.slice();
  for (let at = 0; at < b.length; at += 1) {
    const value = b[at] ?? NOTHING;
    if (value === NOTHING) continue;
    if (both[at] !== NOTHING && both[at] !== value) return null;
    both[at] = value;
  }
  return both;
}
