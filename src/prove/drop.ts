/**
 * Whether the outcome of one side can lie above that of the other for the same shared answers, decided exactly.
 *
 * The outcome is the worst of its parts (each rule, each concern), conditions have no "not", and a finding that was not
 * reached fulfils no test. So if the high side ever lies above the low side, it does so through one part that the high
 * side fulfils, with nothing reached but what that part looks at: every further answer can only raise the low side. It is
 * enough to go through the parts, and for each through the answers to the few findings that it looks at.
 */
import { findConcernDrop } from './concern-drop.ts';
import type { Assignment } from './domain.ts';
import { mayHold, openCells, reachedCount, sideRank, waysToFulfil, type Side } from './side.ts';
import { NOTHING, type Row, type Tables } from './tables.ts';

export interface Drop {
  /** The answers that both sides share. */
  readonly shared: Assignment;
  readonly high: number;
  readonly low: number;
}

export function isShorter(a: Drop, b: Drop): boolean {
  return reachedCount(a.shared) < reachedCount(b.shared);
}

/** A drop with as few answers as possible; null: there is none; `too-large`: the search was given up, nothing is shown. */
export type DropSearch = Drop | null | 'too-large';

/** The parts of the high side that may put it above the low side; every other part counts no less on the low side. */
export interface Parts {
  readonly rules: readonly number[];
  readonly concerns: readonly number[];
  /** The floor is looked at as well. */
  readonly floor: boolean;
}

/** The parts that look at a finding: all that can differ where the two sides differ in nothing else. */
export function partsAbout(tables: Tables, finding: number): Parts {
  const rules = tables.rulesOf[finding] ?? [];
  const asksFor = (rows: readonly Row[] | null): boolean =>
    rows?.some((row) => row.some((cell) => cell.finding === finding)) ?? false;
  const concerns = [...tables.thresholds.keys()].filter(
    (concern) =>
      rules.some((at) => tables.rules[at]?.concern === concern) ||
      tables.thresholds[concern]?.some(({ when }) => asksFor(when)),
  );
  return { rules, concerns, floor: false };
}

export function findDrop(high: Side, low: Side, parts: Parts): DropSearch {
  const single = findRuleDrop(high, low, parts);
  const most = single === null ? Infinity : reachedCount(single.shared) - 1;
  const concern = findConcernDrop({ high, low }, parts.concerns, most);
  if (concern === 'too-large') return single ?? concern;
  return concern ?? single;
}

function findRuleDrop(high: Side, low: Side, parts: Parts): Drop | null {
  const { ranks, tables } = high.moment;
  const rows = parts.rules.flatMap((at) => {
    const rank = ranks[at] ?? NOTHING;
    return rank <= 0 ? [] : (tables.rules[at]?.rows ?? []).map((row) => ({ row, rank }));
  });
  const floor = parts.floor ? [{ row: [], rank: tables.floor }] : [];
  let best: Drop | null = null;
  for (const ranked of [...floor, ...rows]) {
    const drop = mayHold(high, ranked.row) ? rowDrop(high, low, ranked) : null;
    if (drop !== null && (best === null || isShorter(drop, best))) best = drop;
  }
  return best;
}

interface RankedRow {
  readonly row: Row;
  readonly rank: number;
}

function rowDrop(high: Side, low: Side, { row, rank }: RankedRow): Drop | null {
  for (const shared of waysToFulfil(high, openCells(high, row))) {
    const lowRank = sideRank(low, shared);
    if (lowRank < rank) return { shared: shared.slice(), high: sideRank(high, shared), low: lowRank };
  }
  return null;
}
