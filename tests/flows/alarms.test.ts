/** Every alarm says what to do until seen and where to turn, and every review has a time. Source: the practice's rules. */
import { describe, expect, it } from 'vitest';
import { assess } from '../../src/call/assess.ts';
import { freshCircumstances } from '../../src/call/circumstances.ts';
import { rank, WITHIN_THE_HOUR, type Outcome } from '../../src/clinical/outcome.ts';
import type { FindingId, FindingValue, Findings, Test } from '../../src/clinical/finding.ts';
import type { Flow, Rule } from '../../src/flow/compiled.ts';
import { realContent } from '../support/real-flows.ts';

const { library, practice } = realContent();
const flows = [...library.procedures, 'general'].map((id) => ({ id, flow: library.flowFor([id]).flow }));
const REVIEWS = ['same-day', 'next-day', 'next-working-day', 'planned-visit'];
const URGENT_ACTS = ['ring-emergency', 'emergency-department', 'on-call-now'];

describe.each(flows)('$id', ({ flow }) => {
  const alarms = flow.rules.flatMap((rule) =>
    rule.effect.kind === 'red-flag' ? [{ rule, flag: rule.effect }] : [],
  );

  it('has red flags, each urgent and each with one to three things to do until seen', () => {
    expect(alarms.length).toBeGreaterThan(20);
    const wrong = alarms.filter(
      ({ flag }) =>
        rank(flag.to) < rank(WITHIN_THE_HOUR) ||
        flag.untilSeen.length < 1 ||
        flag.untilSeen.length > 3 ||
        flag.untilSeen.some((text) => text.trim() === ''),
    );
    expect(wrong.map(({ rule }) => rule.id)).toEqual([]);
  });

  it('says with every red flag whom to turn to, why, and what to do until seen', () => {
    for (const { rule } of alarms) {
      const [day, hours] = [rule.window.days[0], rule.window.hours?.[0] ?? null];
      const told = assess(flow, freshCircumstances({ day, hours }), findingsFor(flow, rule));
      expect(URGENT_ACTS, rule.id).toContain(told.act);
      expect(told.untilSeen.length, rule.id).toBeGreaterThan(0);
      expect(told.reasons.find(({ from }) => from === rule.id)?.text, rule.id).toBe(rule.because);
    }
  });

  it('sends nobody to a place that the practice has not named', () => {
    const places = alarms.flatMap(({ flag }) => flag.seenAt ?? []);
    expect(places.filter((place) => !(place in practice.seenAt))).toEqual([]);
  });

  it('gives every review a time, in rules and in thresholds, and words for it', () => {
    const outcomes: readonly Outcome[] = [
      ...flow.rules.flatMap(({ effect }) => (effect.kind === 'points' ? [] : [effect.to])),
      ...flow.concerns.flatMap(({ thresholds }) => thresholds.map(({ to }) => to)),
    ];
    const reviews = outcomes.filter(({ outcome }) => outcome === 'arrange-review');
    expect(reviews.length).toBeGreaterThan(20);
    expect(reviews.filter(({ within }) => !REVIEWS.includes(within))).toEqual([]);
    expect(Object.keys(flow.words.outcome.review).toSorted()).toEqual(REVIEWS.toSorted());
    expect(outcomes.filter(({ outcome }) => outcome === 'advise')).toEqual([]);
  });
});

/** Just what the first row of its condition takes. */
function findingsFor(flow: Flow, rule: Rule): Findings {
  const findings: Record<FindingId, FindingValue> = {};
  for (const test of rule.if[0] ?? []) findings[test.finding] = valueFor(test, findings[test.finding]);
  expect(Object.keys(findings).filter((id) => flow.findings[id] === undefined)).toEqual([]);
  return findings;
}

/** Of two bounds on one number the value that was found for the first holds for both, or the second decides. */
function valueFor(test: Test, before: FindingValue | undefined): FindingValue {
  if ('in' in test) return test.in[0] ?? 'unsure';
  const bound = 'atLeast' in test ? test.atLeast : test.atMost;
  if (typeof before !== 'number') return bound;
  return 'atLeast' in test ? Math.max(before, bound) : Math.min(before, bound);
}
