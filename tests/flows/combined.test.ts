/** Several procedures of one operation: the union of their flows, the worst outcome. Source: the practice's rules. */
import { describe, expect, it } from 'vitest';
import { assess } from '../../src/call/assess.ts';
import { freshCircumstances } from '../../src/call/circumstances.ts';
import { IMMEDIATE_DANGER } from '../../src/clinical/finding.ts';
import { rank } from '../../src/clinical/outcome.ts';
import { realContent } from '../support/real-flows.ts';
import { seeded } from '../support/seeded.ts';
import { knownTo, randomFindings } from './random-findings.ts';

const { library } = realContent();
const SETS = 150;
const pairs = library.procedures.flatMap((a, at) =>
  library.procedures.slice(at + 1).map((b, further) => ({ a, b, seed: 1000 * at + further })),
);

describe.each(pairs)('$a with $b', ({ a, b, seed }) => {
  const { flow } = library.flowFor([a, b]);
  const alone = [a, b].map((id) => library.flowFor([id]).flow);

  it(`never comes to less than either alone (${String(SETS)} sets of findings by chance)`, () => {
    const chance = seeded(seed);
    const reached = new Set<number>();
    for (let n = 0; n < SETS; n += 1) {
      const findings = randomFindings(flow, chance);
      const circumstances = freshCircumstances({ day: chance.whole(0, 120), hours: null });
      const together = rank(assess(flow, circumstances, findings).outcome);
      reached.add(together);
      for (const single of alone) {
        const apart = rank(assess(single, circumstances, knownTo(single, findings)).outcome);
        expect(
          together,
          `${single.id}, ${JSON.stringify({ ...circumstances.times[0], findings })}`,
        ).toBeGreaterThanOrEqual(apart);
      }
    }
    // Chance that found emergencies alone would show nothing.
    expect(reached.size).toBeGreaterThanOrEqual(5);
  });

  it('asks each danger by one question, and in at most one group', () => {
    for (const { id, group } of Object.values(flow.findings)) {
      if (group !== IMMEDIATE_DANGER) continue;
      const about = flow.questions.filter(({ findings }) => findings.includes(id));
      expect(
        about.filter(({ kind }) => kind === 'finding'),
        id,
      ).toHaveLength(1);
      expect(about.filter(({ kind }) => kind === 'group').length, id).toBeLessThanOrEqual(1);
    }
    expect(new Set(flow.questions.map(({ id }) => id)).size).toBe(flow.questions.length);
    expect(new Set(flow.rules.map(({ id }) => id)).size).toBe(flow.rules.length);
  });

  it('keeps the plan and the signs of both', () => {
    const texts = new Set([...flow.aftercare, ...flow.safetyNet].map((text) => JSON.stringify(text)));
    const single = alone.flatMap(({ aftercare, safetyNet }) => [...aftercare, ...safetyNet]);
    expect(single.filter((text) => !texts.has(JSON.stringify(text)))).toEqual([]);
  });
});

it('the order in which procedures are named makes no difference', () => {
  for (const { a, b } of pairs) {
    expect(library.flowFor([b, a]).hash).toBe(library.flowFor([a, b]).hash);
    expect(library.flowFor([a, b, a]).hash).toBe(library.flowFor([a, b]).hash);
  }
});

it('an operation with one part that has no flow runs on the general flow', () => {
  const [known = ''] = library.procedures;
  expect(library.flowFor([known, 'toe-straightening']).flow.id).toBe('general');
});
