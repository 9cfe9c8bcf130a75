/**
 * What of one flow stands in another with the same or a stronger effect, so that nothing of it can end lower there. What
 * nothing stands in for is left to a search.
 */
import { canonicalJson } from '../basics/json.ts';
import { rank } from '../clinical/outcome.ts';
import type { Concern, Flow, Rule } from '../flow/compiled.ts';
import type { Parts } from './drop.ts';
import { NOTHING, type Moment } from './tables.ts';

/** What of the higher flow the lower one has. */
export interface StandIns {
  /** By rule and row of the higher flow, the numbers of the lower flow's rules that can stand in for it. */
  readonly rules: readonly (readonly (readonly number[])[])[];
  /** Concerns of the higher flow whose thresholds do not all stand. */
  readonly thresholds: readonly number[];
}

export function standInsOf(high: Flow, low: Flow, rows: RulesByRow = rulesByRow(low)): StandIns {
  return {
    rules: high.rules.map((rule) => rule.if.map((row) => rows.get(rowKey(rule, row)) ?? [])),
    thresholds: loweredThresholds(high, low),
  };
}

export type RulesByRow = ReadonlyMap<string, readonly number[]>;

/** By row, and the concern it gives points to, the numbers of a flow's rules. */
export function rulesByRow(low: Flow): RulesByRow {
  const withRow = new Map<string, number[]>();
  for (const [at, rule] of low.rules.entries()) {
    for (const row of rule.if) {
      const key = rowKey(rule, row);
      const known = withRow.get(key);
      if (known === undefined) withRow.set(key, [at]);
      else known.push(at);
    }
  }
  return withRow;
}

function rowKey(rule: Rule, row: Rule['if'][number]): string {
  const { effect } = rule;
  return `${effect.kind === 'points' ? effect.concern : ''} ${canonicalJson(row)}`;
}

export interface HighAndLow {
  readonly low: Moment;
  readonly high: Moment;
}

export function isNothing({ rules, concerns, floor }: Parts): boolean {
  return !floor && rules.length === 0 && concerns.length === 0;
}

/**
 * The parts of the higher flow that nothing stands in for at this moment. For a flag any rule with its row and no milder
 * effect will do; points need one rule that has all their rows, gives no fewer and stands in for no other.
 */
export function doubtfulParts({ low, high }: HighAndLow, { rules: standIns, thresholds }: StandIns): Parts {
  const used = new Set<number>();
  const rules: number[] = [];
  const concerns = new Set(thresholds);
  for (const [at, { concern }] of high.tables.rules.entries()) {
    const rows = standIns[at] ?? [];
    const points = high.points[at] ?? 0;
    const own = high.ranks[at] ?? NOTHING;
    const isStoodInFor = rows.every((by) => by.some((other) => (low.ranks[other] ?? NOTHING) >= own));
    if (own > 0 && !isStoodInFor) rules.push(at);
    if (points === 0 || concern < 0) continue;
    const whole = (rows[0] ?? []).find(
      (other) =>
        !used.has(other) && (low.points[other] ?? 0) >= points && rows.every((by) => by.includes(other)),
    );
    if (whole === undefined) concerns.add(concern);
    else used.add(whole);
  }
  return { rules, concerns: [...concerns], floor: high.tables.floor > low.tables.floor };
}

/** The numbers of concerns that have a threshold which the combined flow does not have at as few points. */
function loweredThresholds(high: Flow, low: Flow): readonly number[] {
  const concerns = new Map(low.concerns.map((concern) => [concern.id, concern]));
  return high.concerns.flatMap((concern, at) => {
    const other = concerns.get(concern.id);
    const stands =
      other !== undefined && concern.thresholds.every((threshold) => hasThreshold(other, threshold));
    return stands ? [] : [at];
  });
}

function hasThreshold(concern: Concern, threshold: Concern['thresholds'][number]): boolean {
  return concern.thresholds.some((other) => {
    if (other.points > threshold.points || rank(other.to) < rank(threshold.to)) return false;
    const rows = new Set((other.when ?? []).map(canonicalJson));
    return other.when === null || (threshold.when ?? []).every((row) => rows.has(canonicalJson(row)));
  });
}
