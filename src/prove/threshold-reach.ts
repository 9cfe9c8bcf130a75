/** Whether the points of a concern can reach a threshold at some moment: a search that takes the most telling answers first. */
import { emptyAssignment, NOT_REACHED, type Assignment } from './domain.ts';
import type { Subject } from './subject.ts';
import { NOTHING, type Moment, type Row } from './tables.ts';

export type ThresholdReach = 'reached' | 'dead' | 'too-large';

const MOST_STEPS = 20_000;

export interface ThresholdPlace {
  readonly concern: number;
  readonly threshold: number;
}

interface Search {
  readonly rules: readonly { readonly rows: readonly Row[]; readonly points: number }[];
  readonly when: readonly Row[] | null;
  readonly need: number;
  readonly findings: readonly number[];
  readonly given: Assignment;
  readonly sizes: readonly number[];
  readonly steps: { left: number };
}

export function thresholdReach({ moments, tables }: Subject, place: ThresholdPlace): ThresholdReach {
  let isUndecided = false;
  const known = new Set<string>();
  const own = tables.rules.flatMap(({ concern }, at) => (concern === place.concern ? [at] : []));
  for (const moment of moments) {
    const signature = own.map((at) => moment.points[at]).join();
    if (known.has(signature)) continue;
    known.add(signature);
    const search = searchAt(moment, place);
    if (search === null) continue;
    const found = settle(search, 0);
    if (found === 'reached') return 'reached';
    if (found === 'too-large') isUndecided = true;
  }
  return isUndecided ? 'too-large' : 'dead';
}

function searchAt({ tables, points }: Moment, { concern, threshold }: ThresholdPlace): Search | null {
  const wanted = tables.thresholds[concern]?.[threshold];
  if (wanted === undefined) return null;
  const rules = tables.rules.flatMap((rule, at) => {
    const given = points[at] ?? 0;
    return rule.concern === concern && given > 0 ? [{ rows: rule.rows, points: given }] : [];
  });
  const rows = [...rules.flatMap((rule) => rule.rows), ...(wanted.when ?? [])];
  const findings = [...new Set(rows.flatMap((row) => row.map(({ finding }) => finding)))];
  return {
    rules,
    when: wanted.when,
    need: wanted.points,
    findings,
    given: emptyAssignment(tables.domain),
    sizes: findings.map((finding) => tables.domain.findings[finding]?.values.length ?? 0),
    steps: { left: MOST_STEPS },
  };
}

/** Settles the findings from the one numbered `at` on, always trying the value that leaves the most points open. */
function settle(search: Search, at: number): ThresholdReach {
  search.steps.left -= 1;
  if (search.steps.left < 0) return 'too-large';
  const finding = search.findings[at];
  if (open(search, at) < search.need) return 'dead';
  if (finding === undefined) return 'reached';
  const values = [NOT_REACHED, ...Array.from({ length: search.sizes[at] ?? 0 }, (_, value) => value)];
  const ranked = values.map((value) => {
    search.given[finding] = value;
    return { value, left: open(search, at + 1) };
  });
  for (const { value } of ranked.toSorted((a, b) => b.left - a.left)) {
    search.given[finding] = value;
    const found = settle(search, at + 1);
    if (found !== 'dead') return found;
  }
  search.given[finding] = NOT_REACHED;
  return 'dead';
}

/** The points that can still be reached, or nothing where the threshold's own condition can no longer hold. */
function open(search: Search, from: number): number {
  const free = new Set(search.findings.slice(from));
  const may = (rows: readonly Row[]): boolean =>
    rows.some((row) =>
      row.every(({ finding, holds }) => {
        if (free.has(finding)) return true;
        return holds[search.given[finding] ?? NOTHING] === true;
      }),
    );
  if (search.when !== null && !may(search.when)) return NOTHING;
  return search.rules.reduce((sum, rule) => sum + (may(rule.rows) ? rule.points : 0), 0);
}
