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
import { NOTHING, type Row } from './tables.ts';

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

/** Parts that do not look at `about` count the same on both sides; null looks at all parts. */
export function findDrop(high: Side, low: Side, about: number | null): DropSearch {
  const single = findRuleDrop(high, low, about);
  if (single !== null && reachedCount(single.shared) === 0) return single;
  const concern = findConcernDrop(high, low, about);
  if (concern === null) return single;
  if (concern === 'too-large') return single ?? 'too-large';
  return single === null || isShorter(concern, single) ? concern : single;
}

function findRuleDrop(high: Side, low: Side, about: number | null): Drop | null {
  const { ranks, tables } = high.moment;
  let best: Drop | null = null;
  if (about === null) best = floorDrop(high, low);
  for (const at of about === null ? tables.rules.keys() : (tables.rulesOf[about] ?? [])) {
    const rank = ranks[at] ?? NOTHING;
    if (rank <= 0) continue;
    for (const row of tables.rules[at]?.rows ?? []) {
      const drop = mayHold(high, row) && isAbout(row, about) ? rowDrop(high, low, { row, rank }) : null;
      if (drop !== null && (best === null || isShorter(drop, best))) best = drop;
    }
  }
  return best;
}

/** The floor of a side is a part that looks at no finding. */
function floorDrop(high: Side, low: Side): Drop | null {
  return rowDrop(high, low, { row: [], rank: high.moment.tables.floor });
}

function isAbout(row: Row, about: number | null): boolean {
  return about === null || row.some(({ finding }) => finding === about);
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
