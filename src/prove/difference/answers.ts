/** What can be answered in two flows together: findings with how many answers each class of values stands for. */
import { conditionHolds, testHolds } from '../../clinical/condition.ts';
import {
  UNSURE,
  type Condition,
  type FindingId,
  type FindingSpec,
  type Test,
} from '../../clinical/finding.ts';
import type { Flow } from '../../flow/compiled.ts';
import type { Domain, DomainFinding } from '../domain.ts';
import { gridOf } from '../values.ts';
import type { Answers, OpenedBy } from './count-ways.ts';

/** A finding as both flows have it: every value that one of them takes. The newer flow has the last word on the rest. */
export function joinedSpecs(flows: readonly Flow[]): ReadonlyMap<FindingId, FindingSpec> {
  const joined = new Map<FindingId, FindingSpec>();
  for (const { findings } of flows) {
    for (const spec of Object.values(findings)) {
      const before = joined.get(spec.id);
      joined.set(spec.id, before === undefined ? spec : together(before, spec));
    }
  }
  return joined;
}

function together(before: FindingSpec, after: FindingSpec): FindingSpec {
  if (before.kind !== 'number') {
    return { ...after, values: [...new Set([...after.values, ...before.values])] };
  }
  return {
    ...after,
    min: least([before.min, after.min], Math.min),
    max: least([before.max, after.max], Math.max),
    step: Math.min(before.step, after.step),
  };
}

function least(limits: readonly (number | null)[], choose: (...of: number[]) => number): number | null {
  const known = limits.filter((limit) => limit !== null);
  return known.length < limits.length ? null : choose(...known);
}

/** The conditions that open findings; a domain has to tell their values apart as well. */
export function openingConditions(specs: Iterable<FindingSpec>): readonly Condition[] {
  return [...specs].flatMap(({ when }) => (when === null ? [] : [when]));
}

/**
 * The findings that a question of either flow settles. One that hangs on the answer to another is reached only where
 * that answer opens it, as in the number of combinations of a flow.
 */
export function answersOf(domain: Domain, flows: readonly Flow[]): Answers {
  const askable = new Set(flows.flatMap(({ questions }) => questions.flatMap(({ findings }) => findings)));
  const weights = new Map<number, readonly bigint[]>();
  const opened: OpenedBy[] = [];
  for (const [at, finding] of domain.findings.entries()) {
    if (!askable.has(finding.spec.id)) continue;
    weights.set(at, [1n, ...weightsOf(finding)]);
    const { when } = finding.spec;
    const parent = domain.indexOf.get(when?.[0]?.[0]?.finding ?? '');
    const values = parent === undefined ? undefined : domain.findings[parent];
    if (when === null || parent === undefined || values === undefined || !askable.has(values.spec.id))
      continue;
    const opens = values.values.map((value) => conditionHolds(when, { [values.spec.id]: value }));
    opened.push({ child: at, parent, opens });
  }
  return { weights, opened };
}

/** How many answers each class of values stands for. */
function weightsOf({ spec, values, tests, classOf }: DomainFinding): readonly bigint[] {
  const counts = values.map(() => 0n);
  const add = (at: number): void => {
    counts[at] = (counts[at] ?? 0n) + 1n;
  };
  if (spec.kind === 'number') for (const at of runNumbers(spec, tests)) add(at);
  else for (const value of spec.values) add(classOf.get(value) ?? 0);
  add(classOf.get(UNSURE) ?? values.length - 1);
  return counts;
}

/** For each number of the grid, the run that it belongs to: a new one begins where some test reads otherwise. */
function runNumbers(spec: FindingSpec, tests: readonly Test[]): readonly number[] {
  let run = -1;
  let before = '';
  return gridOf(spec).map((value) => {
    const reading = tests.map((test) => (testHolds(test, { [spec.id]: value }) ? '1' : '0')).join('');
    if (run < 0 || reading !== before) run += 1;
    before = reading;
    return run;
  });
}
