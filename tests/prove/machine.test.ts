/** What a proof reasons about is what the machine does: the same questions in the same order, and the same outcome. */
import { describe, expect, test } from 'vitest';
import { agenda } from '../../src/call/agenda.ts';
import { assess } from '../../src/call/assess.ts';
import { freshCircumstances } from '../../src/call/circumstances.ts';
import { begin, runnerOf, standingOf, step } from '../../src/call/step.ts';
import { LADDER, rank } from '../../src/clinical/outcome.ts';
import { singleFlowsOf } from '../../src/prove/library-flows.ts';
import { proveWorseAnswers } from '../../src/prove/worse-answers.ts';
import { subjectOf } from '../../src/prove/subject.ts';
import { aFlow, choice, concern, is, points, redFlag, yesNo } from '../support/a-flow.ts';
import { combination, everyAnswer, otherwise } from '../support/every-answer.ts';
import { callByChance } from '../support/call-by-chance.ts';
import { realContent } from '../support/real-flows.ts';
import { seeded } from '../support/seeded.ts';

const CALLS = 1000;
const SEED = 7_350_112;

describe('calls made by chance', () => {
  const { library } = realContent();
  const combined = library.flowFor(['breast-lift', 'tummy-tuck']);
  const runners = [...singleFlowsOf(library), combined].map(runnerOf);

  test(`${String(CALLS)} of them stand where the deciding functions say, after every event`, () => {
    const reached = new Set<number>();
    for (let at = 0; at < CALLS; at += 1) {
      const chance = seeded(SEED + at);
      const places = callByChance(chance.pick(runners), chance);
      const apart = places.find(({ expected, found }) => JSON.stringify(expected) !== JSON.stringify(found));
      expect(apart, `seed ${String(SEED + at)}`).toBeUndefined();
      const last = places.at(-1)?.found;
      expect(last?.question).toBeNull();
      expect(last?.asked.length).toBeLessThanOrEqual(44);
      if (last !== undefined && last.outcome !== null) reached.add(rank(last.outcome));
    }
    expect(reached).toEqual(new Set([0, 1, 2, 3, 4, 5, 6, 7]));
  });
});

describe('a flow with a hundred thousand combinations', () => {
  const specs = [
    yesNo('breathless', { group: 'immediate-danger' }),
    yesNo('collapse', { group: 'immediate-danger' }),
    choice('swelling', ['none', 'even', 'one-sided']),
    choice('redness', ['none', 'along-the-scar', 'spreading']),
    yesNo('tense'),
    yesNo('smell'),
    yesNo('hot'),
    yesNo('calf-pain'),
  ];
  const compiled = aFlow({
    findings: specs.slice(2),
    rules: [
      redFlag('tight', [[...(is('swelling', 'one-sided')[0] ?? []), ...(is('tense', 'yes')[0] ?? [])]]),
      redFlag('leg', is('calf-pain', 'yes')),
      points('even', is('swelling', 'even', 'one-sided'), { points: 1 }),
      points('one-sided', is('swelling', 'one-sided'), { points: 3 }),
      points('red', is('redness', 'along-the-scar', 'spreading'), { points: 1, concern: 'second' }),
      points('spreading', is('redness', 'spreading'), { points: 3, concern: 'second' }),
      points('smell', is('smell', 'yes'), { points: 2, concern: 'second' }),
      points('hot', is('hot', 'yes'), { points: 2, concern: 'second' }),
    ],
    concerns: [
      concern('first', [
        [2, LADDER[1]],
        [4, LADDER[4]],
      ]),
      concern('second', [
        [2, LADDER[2]],
        [5, LADDER[4]],
        [8, LADDER[5]],
      ]),
    ],
  });
  const at = { day: 3, hours: null };
  const answers = everyAnswer(specs);

  test('is proved, and going through all of them finds nothing either', () => {
    expect(answers.count).toBe(4 ** 6 * 5 ** 2);
    expect(proveWorseAnswers(subjectOf(compiled)).verdict).toBe('proved');
    const ranks = new Uint8Array(answers.count);
    for (let number = 0; number < answers.count; number += 1) {
      ranks[number] = rank(
        assess(compiled.flow, freshCircumstances(at), combination(answers, number)).outcome,
      );
    }
    let falls = 0;
    for (const [index, spec] of specs.entries()) {
      for (const [step_, worse] of spec.values.slice(1).entries()) {
        const better = spec.values[step_] ?? '';
        for (let number = 0; number < answers.count; number += 1) {
          if (otherwise(answers, number, index, better) !== number) continue;
          if ((ranks[otherwise(answers, number, index, worse)] ?? 0) < (ranks[number] ?? 0)) falls += 1;
        }
      }
    }
    expect(falls).toBe(0);
  });

  test('stands in the machine as the deciding functions say, every hundredth of them', () => {
    const runner = runnerOf(compiled);
    const ready = step(runner, begin(runner), {
      type: 'IDENTIFIED',
      times: [at],
      clinic: 'open',
      earlierCalls: [],
      known: {},
      facts: {},
    });
    if (!ready.ok) throw new Error('The call does not begin');
    for (let number = 0; number < answers.count; number += 100) {
      const findings = combination(answers, number);
      const told = step(runner, ready.value, {
        type: 'SETTLE',
        findings,
        how: 'volunteered',
        correction: 'taken-back',
      });
      if (!told.ok) throw new Error('The call takes no findings');
      const standing = standingOf(runner, told.value);
      expect(standing.assessment).toEqual(assess(compiled.flow, freshCircumstances(at), findings));
      const next = agenda(compiled.flow, freshCircumstances(at), findings, { questions: [], facts: [] });
      expect(standing.question).toEqual('ask' in next ? next.ask : null);
    }
  });
});
