/** Small flows made by chance, right and wrong ones alike, for comparing two ways of judging them. */
import type { Condition, FindingSpec, Test } from '../../src/clinical/finding.ts';
import { LADDER, type Outcome } from '../../src/clinical/outcome.ts';
import type { Window } from '../../src/clinical/window.ts';
import type { CompiledFlow, Rule } from '../../src/flow/compiled.ts';
import { aFlow, atLeast, choice, concern, days, numeric, points, redFlag, yesNo } from './a-flow.ts';
import type { Seeded } from './seeded.ts';

export interface RandomFlow {
  readonly compiled: CompiledFlow;
  /** The findings besides those of the danger screen. */
  readonly specs: readonly FindingSpec[];
}

const CONCERNS = ['first', 'second'] as const;

export function randomFlow(chance: Seeded): RandomFlow {
  const specs: readonly FindingSpec[] = [
    yesNo('smell', { worse: chance.pick(['yes', 'no', 'neither'] as const) }),
    choice('swelling', ['none', 'even', 'one-sided'], {
      order: chance.pick([
        null,
        [
          ['none', 'even'],
          ['none', 'one-sided'],
        ],
      ]),
    }),
    numeric('temperature', {
      min: 35,
      max: 39,
      normal: 37,
      worse: chance.pick(['away', 'up', 'down'] as const),
    }),
    yesNo('tense'),
  ];
  const rules = Array.from({ length: chance.whole(3, 7) }, (_, at) => randomRule(chance, specs, at));
  const concerns = CONCERNS.map((id) => {
    const low = chance.whole(2, 4);
    const when = chance.next() < 0.3 ? [[randomTest(chance, specs)]] : null;
    return concern(id, [
      [low, rung(chance, 1, 3)],
      [low + chance.whole(1, 4), rung(chance, 4, 7), when],
    ]);
  });
  return { compiled: aFlow({ findings: specs, rules, concerns }), specs };
}

function rung(chance: Seeded, from: number, to: number): Outcome {
  const outcome: Outcome | undefined = LADDER[chance.whole(from, to)];
  if (outcome === undefined) throw new Error('No such rung');
  return outcome;
}

function randomRule(chance: Seeded, specs: readonly FindingSpec[], at: number): Rule {
  const condition = randomCondition(chance, specs);
  const window: Window = chance.next() < 0.7 ? days(0, 365) : days(chance.whole(0, 9), chance.whole(10, 365));
  const kind = chance.next();
  const id = `rule-${String(at)}`;
  if (kind < 0.6) {
    return points(id, condition, { points: chance.whole(1, 4), concern: chance.pick(CONCERNS), window });
  }
  if (kind < 0.8) return atLeast(id, condition, rung(chance, 1, 4), window);
  return redFlag(id, condition, { to: rung(chance, 5, 7), window });
}

function randomCondition(chance: Seeded, specs: readonly FindingSpec[]): Condition {
  return Array.from({ length: chance.whole(1, 2) }, () =>
    Array.from({ length: chance.whole(1, 2) }, () => randomTest(chance, specs)),
  );
}

function randomTest(chance: Seeded, specs: readonly FindingSpec[]): Test {
  const spec = chance.pick(specs);
  const finding = spec.id;
  if (spec.kind === 'number') {
    const border = chance.whole(35, 39);
    return chance.next() < 0.5 ? { finding, atLeast: border } : { finding, atMost: border };
  }
  const values = [...spec.values, 'unsure'];
  return { finding, in: [...new Set([chance.pick(values), chance.pick(values.slice(1))])] };
}
