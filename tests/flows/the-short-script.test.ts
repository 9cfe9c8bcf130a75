/** The real general script, for every call that no other fits. Source: the practice's rules. */
import { describe, expect, it } from 'vitest';
import { assess } from '../../src/call/assess.ts';
import { freshCircumstances } from '../../src/call/circumstances.ts';
import { runnerOf } from '../../src/call/step.ts';
import { IMMEDIATE_DANGER } from '../../src/clinical/finding.ts';
import { rank, SAME_DAY } from '../../src/clinical/outcome.ts';
import { isUnsureUrgent } from '../../src/flow/law.ts';
import { realContent } from '../support/real-flows.ts';
import { seeded } from '../support/seeded.ts';
import { play } from './play.ts';
import { randomFindings } from './random-findings.ts';

const { library } = realContent();
const { general } = library;
/** Before the operation, on its days, long after them, and on a day that nobody knows. */
const DAYS = [-20, 0, 40, 365, 2000, null];

describe('the short script', () => {
  it.each(DAYS)(
    'asks sight, bleeding, one leg, fever, redness or pus and the number to ring on day %s',
    (day) => {
      const { asked, standing } = play(runnerOf(general), { at: { day, hours: null }, number: 'asked' });
      const { held } = standing.context;
      for (const id of [
        'vision-change',
        'bleeding-heavy',
        'one-leg-swollen',
        'temperature',
        'redness',
        'discharge',
      ]) {
        expect(held[id], id).toBeDefined();
      }
      expect(asked).toContain('call-back-number');
      expect(asked.length).toBeLessThanOrEqual(14);
    },
  );

  it('never ends in advice, whatever is said', () => {
    const chance = seeded(77);
    for (let n = 0; n < 300; n += 1) {
      const at = { day: chance.pick(DAYS), hours: null };
      const { outcome } = assess(general.flow, freshCircumstances(at), randomFindings(general.flow, chance));
      expect(rank(outcome)).toBeGreaterThanOrEqual(rank(SAME_DAY));
    }
  });
});

// Practice rule: besides every immediate danger, not knowing is urgent for these eleven and for nothing else.
describe('"I don\'t know" in the real scripts', () => {
  const ELEVEN = [
    'vision-change',
    'eye-pain-severe',
    'eye-bulging',
    'neck-tight-or-voice-change',
    'nipple-colour',
    'skin-colour',
    'fingers-pale-or-blue',
    'below-dressing-blue-or-numb',
    'one-leg-swollen',
    'calf-pain',
    'belly-rigid-swollen',
  ];

  it.each(library.procedures)('is urgent for exactly the named findings after %s', (id) => {
    const { flow } = library.flowFor([id]);
    for (const spec of Object.values(flow.findings)) {
      const { outcome } = assess(flow, freshCircumstances({ day: 5, hours: null }), { [spec.id]: 'unsure' });
      const named = spec.group === IMMEDIATE_DANGER || ELEVEN.includes(spec.id);
      expect(isUnsureUrgent(spec), spec.id).toBe(named);
      expect(outcome.outcome === 'urgent-escalation', spec.id).toBe(named);
    }
  });
});
