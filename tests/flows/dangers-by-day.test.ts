/** Legs, swelling, bleeding, doses and early warning in the real scripts, day by day. Source beside each. */
import { describe, expect, it } from 'vitest';
import { assess } from '../../src/call/assess.ts';
import { freshCircumstances } from '../../src/call/circumstances.ts';
import { runnerOf } from '../../src/call/step.ts';
import type { Findings } from '../../src/clinical/finding.ts';
import { realContent } from '../support/real-flows.ts';
import { play } from './play.ts';

const { library } = realContent();
const flows = library.procedures.map((id) => ({ id, compiled: library.flowFor([id]) }));

function comesTo(id: string, day: number, findings: Findings): string {
  const { flow } = library.flowFor([id]);
  const { outcome, within, emergency } = assess(
    flow,
    freshCircumstances({ day, hours: null }),
    findings,
  ).outcome;
  return [outcome, within, ...(emergency ? ['emergency'] : [])].join('/');
}

const URGENT = 'urgent-escalation/1-hour';
const SAME_DAY = 'arrange-review/same-day';
const EMERGENCY = 'urgent-escalation/now/emergency';

describe.each(flows)('after $id', ({ id, compiled }) => {
  // NICE NG158: the risk of a clot is raised for twelve weeks; practice rule: urgent whatever any score says.
  it('one sore or swollen leg is urgent to day 84, an emergency with a sign of the chest, seen the same day later', () => {
    for (const leg of ['one-leg-swollen', 'calf-pain']) {
      for (const day of [0, 1, 14, 40, 84])
        expect(comesTo(id, day, { [leg]: 'yes' }), String(day)).toBe(URGENT);
      for (const day of [85, 200, 365])
        expect(comesTo(id, day, { [leg]: 'yes' }), String(day)).toBe(SAME_DAY);
      for (const chest of ['breathless', 'chest-pain', 'coughing-blood', 'collapse']) {
        expect(comesTo(id, 20, { [leg]: 'yes', [chest]: 'yes' }), chest).toBe(EMERGENCY);
      }
    }
  });

  it('a leg is asked about on every call to day 84, in full or put together, also when all is everyday', () => {
    const runner = runnerOf(compiled);
    for (const day of [0, 3, 10, 30, 84]) {
      for (const opening of [{}, { 'asks-washing': 'yes' }]) {
        const { standing } = play(runner, { at: { day, hours: null }, opening, number: 'asked' });
        const { held } = standing.context;
        expect(held['one-leg-swollen']?.value, `day ${String(day)}`).toBe('no');
        expect(held['calf-pain']?.value, `day ${String(day)}`).toBe('no');
      }
    }
  });

  // Practice rule: swelling within hours is blood until shown otherwise, urgent to day 14, the same day after.
  it('swelling that came within hours is at least urgent to day 14, and at least the same day later', () => {
    const said = { swelling: 'even', 'swelling-within-hours': 'yes' };
    for (const day of [0, 7, 14]) expect([URGENT, EMERGENCY]).toContain(comesTo(id, day, said));
    for (const day of [15, 60, 365]) expect([SAME_DAY, URGENT, EMERGENCY]).toContain(comesTo(id, day, said));
  });

  // Practice rule: bleeding that pressure does not stop has no window. The nose is pressed for fifteen minutes.
  it('bleeding through firm pressure is an emergency on any day', () => {
    for (const day of [0, 12, 365]) expect(comesTo(id, day, { 'bleeding-heavy': 'yes' })).toBe(EMERGENCY);
    const question = compiled.flow.questions.find((one) => one.id === 'bleeding-heavy');
    expect(question?.words).toMatch(/ten minutes/);
  });

  // NHS medicines pages: at most 4 g of paracetamol in 24 hours for adults; practice rule: over it is urgent even if well.
  it('more than four grams of paracetamol in a day is urgent, four are not, and on purpose is never only a dose', () => {
    expect(comesTo(id, 5, { 'paracetamol-g-24h': 4 })).toBe('advise/none');
    expect([URGENT, 'urgent-escalation/now', EMERGENCY]).toContain(
      comesTo(id, 5, { 'paracetamol-g-24h': 4.5 }),
    );
    const onPurpose = comesTo(id, 5, { 'paracetamol-g-24h': 4.5, 'overdose-on-purpose': 'yes' });
    expect(['urgent-escalation/now', EMERGENCY]).toContain(onPurpose);
  });

  // NEWS2, Royal College of Physicians 2017: pulse 131 or more scores 3, breathing 25 or more 3, temperature 39.1 or more 2.
  it('what is measured only raises: a single 3 is urgent, 7 an emergency', () => {
    expect(comesTo(id, 200, { 'heart-rate': 131 })).toBe(URGENT);
    expect(comesTo(id, 200, { 'heart-rate': 131, 'respiratory-rate': 25, temperature: 39.1 })).toBe(
      EMERGENCY,
    );
    expect(comesTo(id, 20, { 'calf-pain': 'yes', 'heart-rate': 70, 'respiratory-rate': 14 })).toBe(URGENT);
  });
});

// Practice rule: no advice starts, stops or doubles a medicine that somebody prescribed.
it('no advice starts, stops or doubles a prescribed medicine', () => {
  const orders = /(?<!not |never )\b(stop taking|stop your|double (your|the)|start taking|skip (your|the) )/i;
  expect('Stop your blood thinner for two days.').toMatch(orders);
  const said = flows.flatMap(({ compiled: { flow } }) => [
    ...flow.aftercare.map(({ say }) => say),
    ...flow.normal.map(({ say }) => say),
    ...flow.rules.flatMap(({ effect }) => (effect.kind === 'red-flag' ? effect.untilSeen : [])),
  ]);
  expect(said.length).toBeGreaterThan(500);
  expect(said.filter((text) => orders.test(text))).toEqual([]);
});

it('the nose is pressed for fifteen minutes', () => {
  const { flow } = library.flowFor(['nose-surgery']);
  const about = flow.questions.filter(({ findings }) => findings.includes('nose-bleed-minutes'));
  const untilSeen = flow.rules.flatMap(({ if: rows, effect }) =>
    effect.kind === 'red-flag' && rows.flat().some(({ finding }) => finding === 'nose-bleed-minutes')
      ? effect.untilSeen
      : [],
  );
  expect(
    [...about.flatMap(({ words, why, unsureMeans }) => [words, why, unsureMeans]), ...untilSeen].join(' '),
  ).toMatch(/fifteen minutes|15 minutes/);
});
