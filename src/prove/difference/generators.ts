/**
 * The fewest answers with which one part of a flow comes to an outcome: the ways to fulfil a row of a rule, and the ways
 * to reach a threshold of a concern in which no answer is to spare. Whatever else a call comes to, it holds one of these.
 */
import { emptyAssignment, NOT_REACHED, type Assignment } from '../domain.ts';
import type { Parts } from '../drop.ts';
import { waysToFulfil } from '../side.ts';
import { anyRowHolds, concernRank, type Moment, type Row, type TableThreshold } from '../tables.ts';

/** Steps left of a search; at 0 it is given up. */
export interface Steps {
  left: number;
}

/** Answers with the rank that the part comes to by itself; `gave-up` where the steps did not last. */
export interface Generated {
  readonly ways: readonly { readonly given: Assignment; readonly rank: number }[];
  readonly gaveUp: boolean;
}

export function generatorsOf(moment: Moment, parts: Parts, steps: Steps): Generated {
  const { tables, ranks } = moment;
  const ways: { given: Assignment; rank: number }[] = [];
  if (parts.floor) ways.push({ given: emptyAssignment(tables.domain), rank: tables.floor });
  for (const at of parts.rules) {
    const rank = ranks[at] ?? 0;
    for (const row of rank > 0 ? (tables.rules[at]?.rows ?? []) : []) {
      for (const given of waysToFulfil({ moment, held: null }, row))
        ways.push({ given: given.slice(), rank });
    }
  }
  let gaveUp = false;
  for (const concern of parts.concerns) {
    const search = searchOf(moment, concern, steps);
    extend(search, 0, 0);
    ways.push(...search.found);
    gaveUp ||= steps.left < 0;
  }
  return { ways, gaveUp };
}

interface Search {
  readonly thresholds: readonly TableThreshold[];
  readonly rules: readonly { readonly rows: readonly Row[]; readonly points: number }[];
  /** Findings with those of their values that some row asks for. */
  readonly findings: readonly { readonly finding: number; readonly values: readonly number[] }[];
  readonly given: Assignment;
  readonly steps: Steps;
  readonly found: { given: Assignment; rank: number }[];
}

function searchOf({ tables, points }: Moment, concern: number, steps: Steps): Search {
  const rules = tables.rules.flatMap((rule, at) => {
    const given = points[at] ?? 0;
    return rule.concern === concern && given > 0 ? [{ rows: rule.rows, points: given }] : [];
  });
  const thresholds = tables.thresholds[concern] ?? [];
  const cells = [
    ...rules.flatMap(({ rows }) => rows),
    ...thresholds.flatMap(({ when }) => when ?? []),
  ].flat();
  const values = new Map<number, Set<number>>();
  for (const { finding, holds } of cells) {
    const known = values.get(finding) ?? new Set<number>();
    values.set(finding, known);
    for (const [value, yes] of holds.entries()) if (yes) known.add(value);
  }
  return {
    thresholds,
    rules,
    findings: [...values].map(([finding, own]) => ({ finding, values: [...own] })),
    given: emptyAssignment(tables.domain),
    steps,
    found: [],
  };
}

/** Adds answers to the findings from the one numbered `from` on; each rank on the way up is a way of its own. */
function extend(search: Search, from: number, before: number): void {
  search.steps.left -= 1;
  if (search.steps.left < 0) return;
  const rank = rankNow(search);
  if (rank > before && isNeeded(search, rank)) search.found.push({ given: search.given.slice(), rank });
  if (mostPossible(search, from) <= rank) return;
  for (let at = from; at < search.findings.length; at += 1) {
    const one = search.findings[at];
    if (one === undefined) continue;
    for (const value of one.values) {
      search.given[one.finding] = value;
      extend(search, at + 1, rank);
    }
    search.given[one.finding] = NOT_REACHED;
  }
}

function rankNow({ rules, thresholds, given }: Search): number {
  const sum = rules.reduce((total, { rows, points }) => total + (anyRowHolds(rows, given) ? points : 0), 0);
  return concernRank(thresholds, sum, given);
}

/** Whether the rank falls without any one of the answers. */
function isNeeded(search: Search, rank: number): boolean {
  return search.findings.every(({ finding }) => {
    const value = search.given[finding] ?? NOT_REACHED;
    if (value === NOT_REACHED) return true;
    search.given[finding] = NOT_REACHED;
    const without = rankNow(search);
    search.given[finding] = value;
    return without < rank;
  });
}

/** The rank that the concern could still come to, whatever is answered from the finding numbered `from` on. */
function mostPossible({ findings, given, rules, thresholds }: Search, from: number): number {
  const open = new Set(findings.slice(from).map(({ finding }) => finding));
  const may = (rows: readonly Row[]): boolean =>
    rows.some((row) =>
      row.every(({ finding, holds }) => {
        const value = given[finding] ?? NOT_REACHED;
        return value === NOT_REACHED ? open.has(finding) : holds[value] === true;
      }),
    );
  const sum = rules.reduce((total, { rows, points }) => total + (may(rows) ? points : 0), 0);
  let most = 0;
  for (const { points, rank, when } of thresholds) {
    if (sum >= points && rank > most && (when === null || may(when))) most = rank;
  }
  return most;
}
