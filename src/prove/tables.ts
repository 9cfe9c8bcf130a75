/** A flow's rules and thresholds as numbered tables, and what they come to at one moment for any answers. */
import type { Condition, Test } from '../clinical/finding.ts';
import { testHolds } from '../clinical/condition.ts';
import { ADVISE, rank } from '../clinical/outcome.ts';
import { holdsAt, type TimeSince } from '../clinical/window.ts';
import { ruleEffectAt } from '../call/score.ts';
import type { Flow, Rule } from '../flow/compiled.ts';
import type { Assignment, Domain } from './domain.ts';

/** What one row of a condition asks of one finding: which of its values will do. */
export interface Cell {
  readonly finding: number;
  readonly holds: readonly boolean[];
}

export type Row = readonly Cell[];

export interface TableRule {
  readonly rule: Rule;
  /** Rows that some answers can fulfil; a row that contradicts itself is left out. */
  readonly rows: readonly Row[];
  /** The concern that it gives points to, or -1. */
  readonly concern: number;
}

export interface TableThreshold {
  readonly points: number;
  readonly rank: number;
  readonly when: readonly Row[] | null;
}

export interface Tables {
  readonly flow: Flow;
  readonly domain: Domain;
  readonly rules: readonly TableRule[];
  /** By concern, in the flow's order. */
  readonly thresholds: readonly (readonly TableThreshold[])[];
  readonly floor: number;
  /** By finding, the numbers of the rules that test it. */
  readonly rulesOf: readonly (readonly number[])[];
  /** The numbers of rules that hold whatever is answered. */
  readonly always: readonly number[];
}

/** The tables at one moment: what each rule comes to by itself (-1 nothing) and the points that it gives. */
export interface Moment {
  readonly tables: Tables;
  readonly at: TimeSince;
  readonly ranks: readonly number[];
  readonly points: readonly number[];
}

export const NOTHING = -1;

export function tablesOf(flow: Flow, domain: Domain): Tables {
  const concerns = new Map(flow.concerns.map(({ id }, at) => [id, at]));
  const rowsFor = (condition: Condition): readonly Row[] => rowsOf(domain, ownRows(flow, condition));
  const rules = flow.rules.map((rule): TableRule => {
    const concern = rule.effect.kind === 'points' ? concerns.get(rule.effect.concern) : undefined;
    return { rule, rows: rowsFor(rule.if), concern: concern ?? NOTHING };
  });
  const rulesOf = domain.findings.map((): number[] => []);
  for (const [at, { rows }] of rules.entries()) {
    for (const finding of new Set(rows.flatMap((row) => row.map((cell) => cell.finding)))) {
      rulesOf[finding]?.push(at);
    }
  }
  const always = rules.flatMap(({ rows }, at) => (rows.some((row) => row.length === 0) ? [at] : []));
  const thresholds = flow.concerns.map((concern) =>
    concern.thresholds.map((threshold) => ({
      points: threshold.points,
      rank: rank(threshold.to),
      when: threshold.when === null ? null : rowsFor(threshold.when),
    })),
  );
  return { flow, domain, rules, thresholds, floor: rank(flow.floor ?? ADVISE), rulesOf, always };
}

/** A row about a finding that the flow does not have never holds in it. */
function ownRows({ findings }: Flow, condition: Condition): Condition {
  const isOwn = (row: readonly Test[]): boolean =>
    row.every(({ finding }) => findings[finding] !== undefined);
  return condition.every(isOwn) ? condition : condition.filter(isOwn);
}

const rowsKnown = new WeakMap<Domain, WeakMap<Condition, readonly Row[]>>();

/** Made once for flows that are proved over the same domain and hold the same condition. */
function rowsOf(domain: Domain, condition: Condition): readonly Row[] {
  const ofDomain = rowsKnown.get(domain) ?? new WeakMap<Condition, readonly Row[]>();
  rowsKnown.set(domain, ofDomain);
  const known = ofDomain.get(condition);
  if (known !== undefined) return known;
  const rows = condition.flatMap((tests) => {
    const row = rowOf(domain, tests);
    return row === null ? [] : [row];
  });
  if (Object.isFrozen(condition)) ofDomain.set(condition, rows);
  return rows;
}

/** Tests of the same finding become one cell. Null: no answers can fulfil it. */
function rowOf(domain: Domain, tests: readonly Test[]): Row | null {
  const cells = new Map<number, boolean[]>();
  for (const test of tests) {
    const finding = domain.indexOf.get(test.finding);
    const values = finding === undefined ? undefined : domain.findings[finding]?.values;
    if (finding === undefined || values === undefined) return null;
    const holds = values.map((value) => testHolds(test, { [test.finding]: value }));
    const before = cells.get(finding);
    cells.set(finding, before === undefined ? holds : holds.map((yes, at) => yes && before[at] === true));
  }
  const row = [...cells].map(([finding, holds]) => ({ finding, holds }));
  return row.every(({ holds }) => holds.includes(true)) ? row : null;
}

export function momentAt(tables: Tables, at: TimeSince): Moment {
  const effects = tables.rules.map(({ rule }) => effectAt(rule, at));
  return {
    tables,
    at,
    ranks: effects.map(({ rank: own }) => own),
    points: effects.map(({ points }) => points),
  };
}

interface NumberedEffect {
  readonly rank: number;
  readonly points: number;
}

const effectsKnown = new WeakMap<Rule, Map<boolean, NumberedEffect>>();

/** What a rule comes to hangs on nothing of the moment but whether it lies in the rule's window. */
function effectAt(rule: Rule, at: TimeSince): NumberedEffect {
  const inside = holdsAt(rule.window, at);
  const ofRule = effectsKnown.get(rule) ?? new Map<boolean, NumberedEffect>();
  const known = ofRule.get(inside);
  if (known !== undefined) return known;
  const effect = ruleEffectAt(rule, at);
  const own = effect === null || rule.effect.kind === 'points' ? NOTHING : rank(effect.to);
  const numbered = { rank: own, points: effect?.points ?? 0 };
  ofRule.set(inside, numbered);
  if (Object.isFrozen(rule)) effectsKnown.set(rule, ofRule);
  return numbered;
}

function rowHolds(row: Row, given: Assignment): boolean {
  for (const { finding, holds } of row) {
    const value = given[finding] ?? NOTHING;
    if (value < 0 || holds[value] !== true) return false;
  }
  return true;
}

export function anyRowHolds(rows: readonly Row[], given: Assignment): boolean {
  for (const row of rows) if (rowHolds(row, given)) return true;
  return false;
}

/** The outcome's rank for these answers: the worst of the floor, of every rule and of every concern. */
export function rankOf(moment: Moment, given: Assignment): number {
  const { rulesOf, always, rules } = moment.tables;
  const sum = summing(moment, given);
  const tried = new Uint8Array(rules.length);
  for (const at of always) sum.add(at);
  for (let finding = 0; finding < given.length; finding += 1) {
    if (given[finding] === NOTHING) continue;
    for (const at of rulesOf[finding] ?? []) {
      if (tried[at] === 1) continue;
      tried[at] = 1;
      sum.add(at);
    }
  }
  return sum.rank();
}

/** The outcome's rank when one finding alone is reached: no rule can hold that does not test it. */
export function rankAlone(moment: Moment, finding: number, given: Assignment): number {
  const { rulesOf, always } = moment.tables;
  const sum = summing(moment, given);
  for (const at of [...always, ...(rulesOf[finding] ?? [])]) sum.add(at);
  return sum.rank();
}

/** Adds up what rules come to, each given once, where these answers fulfil them. */
function summing(moment: Moment, given: Assignment): { add: (at: number) => void; rank: () => number } {
  const { rules, thresholds, floor } = moment.tables;
  const sums = new Map<number, number>();
  let worst = floor;
  return {
    add: (at) => {
      const own = moment.ranks[at] ?? NOTHING;
      const points = moment.points[at] ?? 0;
      const one = rules[at];
      if (one === undefined || (own <= worst && points === 0) || !anyRowHolds(one.rows, given)) return;
      worst = Math.max(worst, own);
      if (points > 0 && one.concern >= 0) sums.set(one.concern, (sums.get(one.concern) ?? 0) + points);
    },
    rank: () => {
      for (const [concern, sum] of sums) {
        worst = Math.max(worst, concernRank(thresholds[concern] ?? [], sum, given));
      }
      return worst;
    },
  };
}

/** What so many points of a concern come to; 0 below its first threshold. */
export function concernRank(
  thresholds: readonly TableThreshold[],
  points: number,
  given: Assignment,
): number {
  let worst = 0;
  for (const threshold of thresholds) {
    if (points < threshold.points || threshold.rank <= worst) continue;
    if (threshold.when === null || anyRowHolds(threshold.when, given)) worst = threshold.rank;
  }
  return worst;
}
