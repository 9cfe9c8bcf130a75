/** The answers that flows can tell apart, numbered: every finding with one value of each class. */
import { canonicalJson } from '../basics/json.ts';
import type { Condition, FindingId, FindingSpec, FindingValue, Findings, Test } from '../clinical/finding.ts';
import type { Flow } from '../flow/compiled.ts';
import { distinctValues } from './values.ts';

export interface DomainFinding {
  readonly spec: FindingSpec;
  readonly values: readonly FindingValue[];
  /** The tests that the values are told apart by. */
  readonly tests: readonly Test[];
  /** The number of the class of a value, by value. */
  readonly classOf: ReadonlyMap<FindingValue, number>;
}

export interface Domain {
  readonly findings: readonly DomainFinding[];
  readonly indexOf: ReadonlyMap<FindingId, number>;
}

/** By finding the number of its value, or NOT_REACHED. */
export type Assignment = Int16Array;
export const NOT_REACHED = -1;

/** The domain of all these flows together: what any of their rules and thresholds tells apart. */
export function domainOf(flows: readonly Flow[]): Domain {
  const specs = new Map(flows.flatMap((flow) => Object.entries(flow.findings)));
  return domainFor(specs, flows.flatMap(conditionsOf));
}

function conditionsOf(flow: Flow): readonly Condition[] {
  return [
    ...flow.rules.map((rule) => rule.if),
    ...flow.concerns.flatMap(({ thresholds }) => thresholds.map(({ when }) => when ?? [])),
  ];
}

/** The domain of these findings as far as the flows, and these conditions besides, tell their values apart. */
export function joinedDomain(
  specs: ReadonlyMap<FindingId, FindingSpec>,
  flows: readonly Flow[],
  besides: readonly Condition[],
): Domain {
  return domainFor(specs, [...flows.flatMap(conditionsOf), ...besides]);
}

function domainFor(specs: ReadonlyMap<FindingId, FindingSpec>, all: readonly Condition[]): Domain {
  const conditions = new Set(all);
  const tests = new Map<FindingId, Map<string, Test>>();
  for (const test of [...conditions].flat(2)) {
    const known = tests.get(test.finding) ?? new Map<string, Test>();
    tests.set(test.finding, known.set(canonicalJson(test), test));
  }
  const findings = [...specs.values()].map((spec) =>
    toDomainFinding(spec, [...(tests.get(spec.id)?.values() ?? [])]),
  );
  return { findings, indexOf: new Map(findings.map(({ spec }, at) => [spec.id, at])) };
}

function toDomainFinding(spec: FindingSpec, tests: readonly Test[]): DomainFinding {
  const values = distinctValues(spec, tests);
  const classOf = new Map(values.map((value, at) => [value, at]));
  for (const value of spec.values) {
    if (classOf.has(value)) continue;
    const same = values.findIndex((one) => tests.every((test) => readsAlike(test, one, value)));
    classOf.set(value, same);
  }
  return { spec, values, tests, classOf };
}

function readsAlike(test: Test, a: FindingValue, b: FindingValue): boolean {
  return !('in' in test) || test.in.includes(a) === test.in.includes(b);
}

export function emptyAssignment(domain: Domain): Assignment {
  return new Int16Array(domain.findings.length).fill(NOT_REACHED);
}

/** The assignment as findings of a call; what was not reached is not in it. */
export function findingsOf(domain: Domain, assignment: Assignment): Findings {
  const found: Record<FindingId, FindingValue> = {};
  for (const [at, number] of assignment.entries()) {
    const finding = domain.findings[at];
    const value = finding?.values[number];
    if (finding !== undefined && value !== undefined) found[finding.spec.id] = value;
  }
  return found;
}

/** Findings of a call as an assignment; each value stands for its class. */
export function assignmentOf(domain: Domain, findings: Findings): Assignment {
  const given = emptyAssignment(domain);
  for (const [id, value] of Object.entries(findings)) {
    const at = domain.indexOf.get(id);
    if (at !== undefined) given[at] = classNumber(domain, at, value);
  }
  return given;
}

/** The class number of a value of a finding; throws where the domain does not know it. */
export function classNumber(domain: Domain, finding: number, value: FindingValue): number {
  const number = domain.findings[finding]?.classOf.get(value);
  if (number === undefined) throw new Error(`A value outside the domain of finding ${String(finding)}`);
  return number;
}
