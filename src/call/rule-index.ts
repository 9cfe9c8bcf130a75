/** Which rules of a flow can hold at all for what is known, found without trying every rule; made once per flow. */
import type { FindingId, Findings, FindingValue, Test } from '../clinical/finding.ts';
import type { Flow, Rule } from '../flow/compiled.ts';

/** Places in `flow.rules`, by the finding and the value that the first test of a row asks for. */
interface RuleIndex {
  readonly byValue: ReadonlyMap<FindingId, ReadonlyMap<FindingValue, readonly number[]>>;
  readonly byNumber: ReadonlyMap<FindingId, readonly number[]>;
  /** A row without a test holds whatever is known. */
  readonly always: readonly number[];
}

const indexes = new WeakMap<Flow, RuleIndex>();

/**
 * In the order of the file, and never without a rule whose condition holds: a row holds only if its first test does.
 * The flow must be frozen.
 */
export function rulesThatMayHold(flow: Flow, findings: Findings): readonly Rule[] {
  const index = indexes.get(flow) ?? indexOf(flow);
  indexes.set(flow, index);
  const places = new Set(index.always);
  for (const id in findings) {
    const value = findings[id];
    if (value === undefined) continue;
    for (const place of index.byValue.get(id)?.get(value) ?? []) places.add(place);
    if (typeof value === 'number') for (const place of index.byNumber.get(id) ?? []) places.add(place);
  }
  const sorted = [...places].sort((a, b) => a - b);
  return sorted.flatMap((place) => flow.rules[place] ?? []);
}

function indexOf(flow: Flow): RuleIndex {
  const byValue = new Map<FindingId, Map<FindingValue, number[]>>();
  const byNumber = new Map<FindingId, number[]>();
  const always: number[] = [];
  for (const [place, rule] of flow.rules.entries()) {
    for (const [test] of rule.if) {
      if (test === undefined) always.push(place);
      else if ('in' in test) {
        const values = byValue.get(test.finding) ?? new Map<FindingValue, number[]>();
        byValue.set(test.finding, values);
        for (const value of test.in) values.set(value, [...(values.get(value) ?? []), place]);
      } else byNumber.set(test.finding, [...(byNumber.get(test.finding) ?? []), place]);
    }
  }
  return { byValue, byNumber, always };
}

const alarms = new WeakMap<Flow, ReadonlyMap<FindingId, readonly Test[]>>();

/** By finding, every test that some red flag makes of it; kept for a flow that is frozen. */
export function alarmTests(flow: Flow): ReadonlyMap<FindingId, readonly Test[]> {
  const known = alarms.get(flow);
  if (known !== undefined) return known;
  const tests = new Map<FindingId, Test[]>();
  for (const { effect, if: condition } of flow.rules) {
    if (effect.kind !== 'red-flag') continue;
    for (const test of condition.flat()) {
      const before = tests.get(test.finding);
      if (before === undefined) tests.set(test.finding, [test]);
      else before.push(test);
    }
  }
  if (Object.isFrozen(flow)) alarms.set(flow, tests);
  return tests;
}
