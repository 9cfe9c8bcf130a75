/** Scoring by an index of the rules comes to what trying every rule comes to. */
import { expect, test } from 'vitest';
import type { Findings, FindingSpec, FindingValue } from '../../src/clinical/finding.ts';
import { UNSURE } from '../../src/clinical/finding.ts';
import { score } from '../../src/call/score.ts';
import type { Flow } from '../../src/flow/compiled.ts';
import { rulesLibrary } from '../support/a-practice.ts';
import { realContent } from '../support/real-flows.ts';
import { seeded, type Seeded } from '../support/seeded.ts';

function someValue(spec: FindingSpec, random: Seeded): FindingValue {
  if (random.whole(1, 6) === 1) return UNSURE;
  if (spec.kind !== 'number') return random.pick(spec.values);
  return random.whole(Math.ceil(spec.min ?? 0), Math.floor(spec.max ?? 100));
}

/** From nearly nothing known to everything. */
function someFindings(flow: Flow, random: Seeded): Findings {
  const share = random.whole(1, 6);
  const known = Object.values(flow.findings).filter(() => random.whole(1, share) === 1);
  return Object.fromEntries(known.map((spec) => [spec.id, someValue(spec, random)]));
}

test.each(['fixture', 'real'])('in 100 random calls on every %s flow', (which) => {
  const library = which === 'real' ? realContent().library : rulesLibrary();
  const random = seeded(20_260_302);
  for (const id of [...library.procedures, 'general']) {
    const { flow } = library.flowFor([id]);
    // Nothing is looked up or remembered for what is not frozen.
    const plain: Flow = structuredClone(flow);
    for (let n = 0; n < 100; n += 1) {
      const findings = someFindings(flow, random);
      const time = { day: random.whole(0, 365), hours: null };
      const expected = score(plain, time, findings);
      expect(score(flow, time, findings)).toEqual(expected);
      const frozen = Object.freeze(findings);
      expect(score(flow, time, frozen)).toEqual(expected);
      expect(score(flow, { ...time }, frozen)).toEqual(expected);
    }
  }
});

test('the same findings at another time are another question', () => {
  const { flow } = rulesLibrary().flowFor(['breast-lift']);
  const findings: Findings = Object.freeze({ 'swelling-within-hours': 'yes' });
  // The fixture's red flag of fast swelling holds on days 0 to 14 and is a same-day review after them.
  expect(score(flow, { day: 14, hours: null }, findings).outcome.within).toBe('1-hour');
  expect(score(flow, { day: 15, hours: null }, findings).outcome.within).toBe('same-day');
  expect(score(flow, { day: 14, hours: null }, findings).outcome.within).toBe('1-hour');
});
