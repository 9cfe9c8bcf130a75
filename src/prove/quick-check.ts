/**
 * A cheap sufficient check that one value of a finding never gives less than another, whatever else is answered: every
 * rule that the better value fulfils is made up for at the worse one. Where it fails nothing is shown either way.
 */
import { emptyAssignment, NOT_REACHED, type Assignment } from './domain.ts';
import { anyRowHolds, NOTHING, type Moment, type Row, type TableRule, type Tables } from './tables.ts';

export interface Compared {
  readonly finding: number;
  readonly better: number;
  readonly worse: number;
}

/** Ways to answer the other findings of shared rules that are gone through at most. */
const MOST_WAYS = 20_000;

/** Whether one rule makes up for itself: whenever it holds at the better value it holds at the worse one. */
export function isRuleNoLower(tables: Tables, at: number, compared: Compared): boolean {
  const rows = tables.rules[at]?.rows ?? [];
  return areMadeUpFor(rows, rows, compared);
}

/** Whether the thresholds' own conditions hold at the worse value whenever they hold at the better one. */
export function areThresholdsNoLower({ thresholds }: Tables, compared: Compared): boolean {
  return thresholds.flat().every(({ when }) => when === null || areMadeUpFor(when, when, compared));
}

/**
 * Whether the rules of the moment together make up for those that do not make up for themselves; thresholds are looked
 * at by themselves.
 */
export function isPlainlyNoLower(moment: Moment, compared: Compared, alone: readonly number[]): boolean {
  const { tables, ranks, points } = moment;
  const numbers = tables.rulesOf[compared.finding] ?? [];
  const active = numbers.flatMap((at) => {
    const rule = tables.rules[at];
    const isLoose = alone.includes(at);
    return rule === undefined ? [] : [{ rule, isLoose, rank: ranks[at] ?? NOTHING, points: points[at] ?? 0 }];
  });
  const flags = active.filter(({ rank }) => rank > 0);
  const singles = flags.every(({ rule, rank, isLoose }) => {
    if (!isLoose) return true;
    const same = flags.filter((other) => other.rank >= rank).flatMap((other) => other.rule.rows);
    return areMadeUpFor(rule.rows, same, compared);
  });
  if (!singles) return false;
  const giving = active.filter(({ points: given }) => given > 0);
  const loose = giving.filter(({ isLoose }) => isLoose);
  return [...new Set(loose.map(({ rule }) => rule.concern))].every((concern) => {
    const own = giving.filter(({ rule }) => rule.concern === concern);
    const doubtful = loose.filter(({ rule }) => rule.concern === concern);
    return (
      pointsNeverFall(moment, near(own, doubtful, compared), compared) ||
      pointsNeverFall(moment, own, compared)
    );
  });
}

/** Rules that look at nothing but what the doubtful ones look at. The others only add at the worse value. */
function near(
  own: readonly ActiveRule[],
  doubtful: readonly ActiveRule[],
  compared: Compared,
): readonly ActiveRule[] {
  const looked = new Set([compared.finding, ...doubtful.flatMap(({ rule }) => findingsOf(rule))]);
  return own.filter(({ rule }) => findingsOf(rule).every((finding) => looked.has(finding)));
}

function findingsOf({ rows }: TableRule): readonly number[] {
  return rows.flatMap((row) => row.map(({ finding }) => finding));
}

/** Each row that the better value fulfils has one that the worse value fulfils and that asks no more of the others. */
function areMadeUpFor(rows: readonly Row[], by: readonly Row[], compared: Compared): boolean {
  return rows.every((row) => {
    const own = row.find(({ finding }) => finding === compared.finding);
    if (own === undefined || own.holds[compared.better] !== true || own.holds[compared.worse] === true)
      return true;
    return by.some((other) => asksNoMore(other, row, compared));
  });
}

function asksNoMore(other: Row, row: Row, { finding, worse }: Compared): boolean {
  return other.every((cell) => {
    if (cell.finding === finding) return cell.holds[worse] === true;
    const known = row.find((one) => one.finding === cell.finding);
    return known !== undefined && known.holds.every((yes, at) => !yes || cell.holds[at] === true);
  });
}

interface ActiveRule {
  readonly rule: TableRule;
  readonly points: number;
}

/** Goes through every way to answer the other findings of these rules and compares the sums. */
function pointsNeverFall(moment: Moment, active: readonly ActiveRule[], compared: Compared): boolean {
  const rows = active.flatMap(({ rule }) => rule.rows);
  const others = new Set(rows.flatMap((row) => row.map(({ finding }) => finding)));
  others.delete(compared.finding);
  const { domain } = moment.tables;
  const sizes = [...others].map((finding) => (domain.findings[finding]?.values.length ?? 0) + 1);
  if (sizes.reduce((product, size) => product * size, 1) > MOST_WAYS) return false;
  const given = emptyAssignment(domain);
  const sumAt = (value: number): number => {
    given[compared.finding] = value;
    return active.reduce((sum, { rule, points }) => sum + (anyRowHolds(rule.rows, given) ? points : 0), 0);
  };
  return everyWay({ given, sizes }, [...others], () => sumAt(compared.worse) >= sumAt(compared.better));
}

interface Ways {
  readonly given: Assignment;
  readonly sizes: readonly number[];
}

function everyWay({ given, sizes }: Ways, findings: readonly number[], holds: () => boolean): boolean {
  const [finding, ...rest] = findings;
  if (finding === undefined) return holds();
  const [size = 0, ...sizesLeft] = sizes;
  for (let value = NOT_REACHED; value < size - 1; value += 1) {
    given[finding] = value;
    if (!everyWay({ given, sizes: sizesLeft }, rest, holds)) return false;
  }
  return true;
}
