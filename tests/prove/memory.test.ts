/** What is remembered from one flow to the next changes no verdict: each flow fares alone as it does among all others. */
import { expect, test } from 'vitest';
import type { CompiledFlow } from '../../src/flow/compiled.ts';
import { memoryOf, type Memory } from '../../src/prove/memory.ts';
import { proveCombined } from '../../src/prove/combined.ts';
import { proveNotKnowing } from '../../src/prove/not-knowing.ts';
import type { Proof } from '../../src/prove/report.ts';
import { REAL_DECIDERS, subjectOf } from '../../src/prove/subject.ts';
import { proveWorseAnswers } from '../../src/prove/worse-answers.ts';
import { is, points, redFlag } from '../support/a-flow.ts';
import { realContent } from '../support/real-flows.ts';
import { withoutRule, withRule } from '../support/tampered.ts';

const { library } = realContent();
const lift = library.flowFor(['breast-lift']);
const both = library.flowFor(['breast-lift', 'tummy-tuck']);
const flows: readonly CompiledFlow[] = [
  lift,
  withRule(lift, redFlag('small-gap', is('wound-gap', 'small'))),
  both,
  withRule(both, redFlag('small-gap', is('wound-gap', 'small'))),
  withRule(
    lift,
    points('clear', is('discharge', 'clear-or-blood-tinged'), { points: 9, concern: 'infection' }),
  ),
  withoutRule(lift, 'unsure-nipple-colour'),
  withoutRule(both, 'lift-tight-and-nipple'),
  library.flowFor(['eyelid-surgery']),
  library.flowFor(['eyelid-surgery', 'skin-lesion']),
  library.general,
];

function shown({ verdict, counterexamples }: Proof): object {
  return { verdict, calls: counterexamples.map(({ findings, atLeast }) => ({ findings, atLeast })) };
}

function verdicts(compiled: CompiledFlow, memory?: Memory): readonly object[] {
  const subject = subjectOf(compiled, REAL_DECIDERS, memory);
  const alone = subjectOf(lift, REAL_DECIDERS, memory);
  const parts = compiled.flow.procedures.includes('breast-lift') ? [alone] : [];
  return [proveWorseAnswers(subject), proveNotKnowing(subject), proveCombined(subject, parts)].map(shown);
}

test('a flow alone and among others has the same verdicts and the same shortest calls', () => {
  const memory = memoryOf(flows.map(({ flow }) => flow));
  const among = flows.map((compiled) => verdicts(compiled, memory));
  expect(flows.map((compiled) => verdicts(compiled))).toEqual(among);
  expect(JSON.stringify(among).match(/refuted/g)).toHaveLength(6);
});
