/** In whatever order the same things are said, the machine comes to the same (practice rule: the outcome never hangs on it). */
import { describe, expect, test } from 'vitest';
import type { FindingValue } from '../../src/clinical/finding.ts';
import { EMERGENCY, LADDER } from '../../src/clinical/outcome.ts';
import type { TimeSince } from '../../src/clinical/window.ts';
import { begin, runnerOf, standingOf, step, type Runner } from '../../src/call/step.ts';
import { singleFlowsOf } from '../../src/prove/library-flows.ts';
import { POSSIBLE_TIMES } from '../../src/prove/times.ts';
import { aFlow, allOf, choice, concern, is, points, redFlag, yesNo } from '../support/a-flow.ts';
import { valuesOf } from '../support/every-answer.ts';
import { realContent } from '../support/real-flows.ts';
import { seeded } from '../support/seeded.ts';

interface Said {
  readonly finding: string;
  readonly value: FindingValue;
}

function assessmentAfter(runner: Runner, at: TimeSince, said: readonly Said[]): object {
  const identified = {
    type: 'IDENTIFIED',
    times: [at],
    clinic: 'open',
    earlierCalls: [],
    known: {},
    facts: {},
  } as const;
  const events = said.map(({ finding, value }) => ({
    type: 'SETTLE' as const,
    findings: { [finding]: value },
    how: 'volunteered' as const,
    correction: 'taken-back' as const,
  }));
  let snapshot = begin(runner);
  for (const event of [identified, ...events]) {
    const next = step(runner, snapshot, event);
    if (!next.ok) throw new Error(`The machine does not take ${event.type}`);
    snapshot = next.value;
  }
  const { outcome, redFlags, concerns, reasons } = standingOf(runner, snapshot).assessment;
  return { outcome, redFlags, concerns, reasons };
}

function ordersOf<TItem>(items: readonly TItem[]): readonly (readonly TItem[])[] {
  if (items.length === 0) return [[]];
  return items.flatMap((item, at) =>
    ordersOf(items.filter((_, other) => other !== at)).map((rest) => [item, ...rest]),
  );
}

describe('a small flow, all orders of all answers', () => {
  const swelling = choice('swelling', ['none', 'even', 'one-sided']);
  const runner = runnerOf(
    aFlow({
      findings: [swelling, yesNo('tense'), yesNo('smell')],
      rules: [
        redFlag('tight', allOf(is('swelling', 'one-sided'), is('tense', 'yes'))),
        points('smell', is('smell', 'yes'), { points: 2 }),
        points('even', is('swelling', 'even', 'one-sided'), { points: 2 }),
      ],
      concerns: [
        concern('first', [
          [2, LADDER[1]],
          [4, LADDER[4]],
        ]),
      ],
    }),
  );
  const at = { day: 2, hours: null };
  const answers = [...swelling.values, 'unsure'].flatMap((value) =>
    ['no', 'yes', 'unsure'].flatMap((tense) =>
      ['no', 'yes'].map((smell) => [
        { finding: 'swelling', value },
        { finding: 'tense', value: tense },
        { finding: 'smell', value: smell },
      ]),
    ),
  );

  test('come to the same', () => {
    for (const said of answers) {
      const results = ordersOf(said).map((order) => JSON.stringify(assessmentAfter(runner, at, order)));
      expect(new Set(results).size, JSON.stringify(said)).toBe(1);
    }
  });

  test('come to the same with a danger that was said and taken back somewhere among them', () => {
    const danger = { finding: 'collapse', value: 'yes' };
    const denied = { finding: 'collapse', value: 'no' };
    for (const said of answers.slice(0, 6)) {
      const orders = ordersOf([...said, danger, denied]).filter(
        (order) => order.indexOf(danger) < order.indexOf(denied),
      );
      const results = orders.map((order) => assessmentAfter(runner, at, order));
      expect(new Set(results.map((one) => JSON.stringify(one))).size).toBe(1);
      expect(results[0]).toMatchObject({ outcome: EMERGENCY });
    }
  });
});

test('a handful of answers on a real flow comes to the same in two orders', () => {
  const { library } = realContent();
  const combined = library.flowFor(['breast-lift', 'tummy-tuck']);
  const runners = [...singleFlowsOf(library), combined].map(runnerOf);
  for (let seed = 1; seed <= 100; seed += 1) {
    const chance = seeded(seed);
    const runner = chance.pick(runners);
    // Who comes to the telephone changes who the caller is, so these two are not free of each other.
    const specs = Object.values(runner.compiled.flow.findings).filter(({ group }) => group !== 'caller');
    const said = chance
      .shuffle(specs)
      .slice(0, 6)
      .map((spec) => ({ finding: spec.id, value: chance.pick([...valuesOf(spec), 'unsure']) }));
    const at = chance.pick(POSSIBLE_TIMES);
    expect(assessmentAfter(runner, at, chance.shuffle(said)), `seed ${String(seed)}`).toEqual(
      assessmentAfter(runner, at, said),
    );
  }
});
