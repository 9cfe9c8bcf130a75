/** A solver that knows nothing of the prover judges a flow on one day, and comes to the same. */
import { afterAll, describe, expect, test } from 'vitest';
import { proveRedFlags } from '../../src/prove/red-flags.ts';
import { subjectOf } from '../../src/prove/subject.ts';
import { proveWorseAnswers } from '../../src/prove/worse-answers.ts';
import type { CompiledFlow } from '../../src/flow/compiled.ts';
import { is, points, redFlag } from '../support/a-flow.ts';
import { realContent } from '../support/real-flows.ts';
import { changedRule, withRule } from '../support/tampered.ts';
import { days } from '../support/a-flow.ts';
import { startJudge } from '../support/z3-judge.ts';

const lift = realContent().library.flowFor(['breast-lift']);
const AT = { day: 5, hours: null };
const judge = await startJudge();
afterAll(judge.close);

describe('worse answers', () => {
  const broken = [
    ['one that is urgent where the worse one is not', redFlag('gap', is('wound-gap', 'small')), 'wound-gap'],
    ['points that the worse one does not give', clear(), 'discharge'],
  ] as const;

  test('of the flow as it is written', async () => {
    expect(proveWorseAnswers(subjectOf(lift)).verdict).toBe('proved');
    expect(await judge.worseLowers(lift.flow, AT)).toEqual([]);
  });

  test.each(broken)('of a broken copy: %s', async (_what, rule, finding) => {
    const copy = withRule(lift, rule);
    expect(proveWorseAnswers(subjectOf(copy)).counterexamples.map(foundIn)).toEqual([finding]);
    expect(await judge.worseLowers(copy.flow, AT)).toEqual([finding]);
  });

  function clear() {
    return points('clear', is('discharge', 'clear-or-blood-tinged'), { points: 9, concern: 'infection' });
  }

  function foundIn({ findings }: { readonly findings: object }): string | undefined {
    return Object.keys(findings).at(-1);
  }
});

describe('red flags', () => {
  test('of the flow as it is written', async () => {
    expect(proveRedFlags(subjectOf(lift)).verdict).toBe('proved');
    expect(await judge.mildFlags(lift.flow, AT)).toEqual([]);
  });

  test('of a copy in which one is only a same-day review on this day', async () => {
    const copy: CompiledFlow = changedRule(lift, 'lift-nipple-colour', (rule) => [
      { ...rule, window: days(0, 4) },
    ]);
    // Outside its days a same-day review is what it has to come to, so both accept it.
    expect(proveRedFlags(subjectOf(copy)).verdict).toBe('proved');
    expect(await judge.mildFlags(copy.flow, AT)).toEqual([]);
  });

  test('of a copy in which one comes to a review inside its days', async () => {
    const copy = changedRule(lift, 'lift-nipple-colour', (rule) =>
      rule.effect.kind === 'red-flag'
        ? [
            {
              ...rule,
              effect: {
                ...rule.effect,
                to: { outcome: 'arrange-review', within: 'same-day', emergency: false },
              },
            },
          ]
        : [rule],
    );
    expect(proveRedFlags(subjectOf(copy)).verdict).toBe('refuted');
    expect(await judge.mildFlags(copy.flow, AT)).toEqual(['lift-nipple-colour']);
  });
});
