/**
 * Whether summed points of one concern can put the high side above the low side: a complete search over the findings
 * that the concern looks at, fewest answers first, cut where the points still open can no longer be enough.
 */
import { emptyAssignment, NOT_REACHED, type Assignment } from './domain.ts';
import type { Drop, DropSearch } from './drop.ts';
import { reachedCount, sideRank, withHeld, type Side } from './side.ts';
import { anyRowHolds, concernRank, NOTHING, type Row, type TableThreshold } from './tables.ts';

/** Past so many steps the search is given up and says so. */
const MOST_STEPS = 100_000;

interface PointsRule {
  readonly rows: readonly Row[];
  readonly points: number;
}

interface Search {
  readonly high: Side;
  readonly low: Side;
  readonly thresholds: readonly TableThreshold[];
  readonly rules: readonly PointsRule[];
  /** The shared findings that the concern looks at. */
  readonly findings: readonly number[];
  readonly shared: Assignment;
  readonly steps: { left: number };
}

interface Sides {
  readonly high: Side;
  readonly low: Side;
}

/** Looks for a drop with at most so many answers. */
export function findConcernDrop(sides: Sides, concerns: readonly number[], most: number): DropSearch {
  let best: Drop | null = null;
  let gaveUp = false;
  for (const concern of concerns) {
    const search = searchOf(sides, concern);
    const atMost = best === null ? most : reachedCount(best.shared) - 1;
    const found = shortest(search, Math.min(search.findings.length, atMost));
    if (found === 'too-large') gaveUp = true;
    else if (found !== null) best = found;
  }
  return best ?? (gaveUp ? 'too-large' : null);
}

function searchOf({ high, low }: Sides, concern: number): Search {
  const { tables, points } = high.moment;
  const rules = tables.rules.flatMap((rule, at): PointsRule[] => {
    const given = points[at] ?? 0;
    return rule.concern === concern && given > 0 ? [{ rows: rule.rows, points: given }] : [];
  });
  const thresholds = tables.thresholds[concern] ?? [];
  const rows = [...rules.flatMap((rule) => rule.rows), ...thresholds.flatMap(({ when }) => when ?? [])];
  const involved = new Set(rows.flatMap((row) => row.map(({ finding }) => finding)));
  if (high.held !== null) involved.delete(high.held.finding);
  return {
    high,
    low,
    thresholds,
    rules,
    findings: [...involved],
    shared: emptyAssignment(tables.domain),
    steps: { left: MOST_STEPS },
  };
}

function shortest(search: Search, most: number): DropSearch {
  for (let answers = 0; answers <= most; answers += 1) {
    const found = extend(search, 0, answers);
    if (found !== null) return found;
  }
  return null;
}

/** Goes through all ways to reach exactly `answers` more findings from the one numbered `from` on. */
function extend(search: Search, from: number, answers: number): DropSearch {
  search.steps.left -= 1;
  if (search.steps.left < 0) return 'too-large';
  const low = sideRank(search.low, search.shared);
  if (mostPossible(search, from) <= low) return null;
  if (answers === 0) return dropHere(search, low);
  for (let at = from; at < search.findings.length; at += 1) {
    const finding = search.findings[at];
    if (finding === undefined) continue;
    const values = search.high.moment.tables.domain.findings[finding]?.values.length ?? 0;
    for (let value = 0; value < values; value += 1) {
      search.shared[finding] = value;
      const found = extend(search, at + 1, answers - 1);
      if (found !== null) return found;
    }
    search.shared[finding] = NOT_REACHED;
  }
  return null;
}

function dropHere({ high, thresholds, rules, shared }: Search, low: number): Drop | null {
  const given = withHeld(high, shared);
  const sum = rules.reduce((total, rule) => total + (anyRowHolds(rule.rows, given) ? rule.points : 0), 0);
  if (concernRank(thresholds, sum, given) <= low) return null;
  return { shared: shared.slice(), high: sideRank(high, shared), low };
}

/** The rank that the concern could still come to, whatever is answered from the finding numbered `from` on. */
function mostPossible(search: Search, from: number): number {
  const open = new Set(search.findings.slice(from));
  const given = withHeld(search.high, search.shared);
  const may = (rows: readonly Row[]): boolean =>
    rows.some((row) =>
      row.every(({ finding, holds }) => {
        const value = given[finding] ?? NOTHING;
        return value >= 0 ? holds[value] === true : open.has(finding);
      }),
    );
  const sum = search.rules.reduce((total, rule) => total + (may(rule.rows) ? rule.points : 0), 0);
  let most = 0;
  for (const { points, rank, when } of search.thresholds) {
    if (sum >= points && rank > most && (when === null || may(when))) most = rank;
  }
  return most;
}
