/**
 * Source: NHS and BNF adult limits (UK), worked by hand; the 1,200 mg of ibuprofen and the strengths of combined
 * products are from memory. The limits of US labels are no part of the program; three of them stand here as rules of
 * their own (label limits, the 3,000 mg from memory), to show that the sums follow the rule that is given.
 */
import { describe, expect, test } from 'vitest';
import {
  IBUPROFEN_PRESCRIBED,
  IBUPROFEN_UK,
  PARACETAMOL_PER_UNIT_MG,
  PARACETAMOL_UK,
  doseTotal,
  paracetamolTotal,
  type Dose,
  type DoseRule,
} from '../../src/clinical/dose-limits.ts';
import { nextDose, type DoseQuestion } from '../../src/clinical/next-dose.ts';

const on = (clock: string, day = 2): number => Date.parse(`2026-03-0${day}T${clock}Z`);
const doses = (mg: number, ...clocks: readonly string[]): Dose[] =>
  clocks.map((clock) => ({ at: on(clock), mg }));

const SAFE = { weightUnder50kg: false, areProductsKnown: true, hasCaution: false } as const;
const gram = (at: number, taken: readonly Dose[] | null): DoseQuestion => ({
  ...SAFE,
  wantedMg: 1000,
  at,
  taken,
});
const ibuprofen = (at: number, taken: readonly Dose[]): DoseQuestion => ({
  ...SAFE,
  wantedMg: 400,
  at,
  taken,
});

describe('paracetamol', () => {
  const fourGrams = doses(1000, '08:00', '12:00', '16:00', '20:00');

  test('PA1: 3 h 59 min after a dose it is too soon', () => {
    expect(nextDose(PARACETAMOL_UK, gram(on('11:59'), doses(1000, '08:00')))).toEqual({
      kind: 'not-yet',
      because: 'gap',
      nextAt: on('12:00'),
    });
  });

  test('PA2: 4 h after a dose the next is permitted, 2 g in all', () => {
    const answer = nextDose(PARACETAMOL_UK, gram(on('12:00'), doses(1000, '08:00')));
    expect(answer).toEqual({ kind: 'permitted', totalMg: 2000 });
  });

  test('PA3: with 4 g in the window the next is due when the first leaves it', () => {
    const answer = nextDose(PARACETAMOL_UK, gram(on('00:30', 3), fourGrams));
    expect(answer).toEqual({ kind: 'not-yet', because: 'limit', nextAt: on('08:00', 3) });
  });

  test('PA4: a dose exactly 24 h old has left the window', () => {
    expect(nextDose(PARACETAMOL_UK, gram(on('08:00', 3), fourGrams))).toEqual({
      kind: 'permitted',
      totalMg: 4000,
    });
    expect(nextDose(PARACETAMOL_UK, gram(on('07:59', 3), fourGrams))).toMatchObject({ kind: 'not-yet' });
  });

  test('PA5: with co-codamol beside it 8 g were taken: over the limit', () => {
    const coCodamol = doses(
      2 * PARACETAMOL_PER_UNIT_MG['co-codamol-30-500'],
      '08:00',
      '12:00',
      '16:00',
      '20:00',
    );
    const taken = [...fourGrams, ...coCodamol];
    expect(paracetamolTotal(taken, on('20:30'))).toEqual({ atLeastMg: 8000, isKnown: true, overLimit: true });
    const asked = { ...gram(on('20:30'), taken), weightUnder50kg: null, hasCaution: null };
    expect(nextDose(PARACETAMOL_UK, asked)).toEqual({ kind: 'over-limit', atLeastMg: 8000 });
  });

  test('PA6: at 48 kg no amount and no time is given', () => {
    const asked = { ...gram(on('12:00'), []), weightUnder50kg: true };
    expect(nextDose(PARACETAMOL_UK, asked)).toEqual({ kind: 'ask-clinician', reasons: ['under-50-kg'] });
  });

  test('4,000 mg is within the limit, 4,500 mg is over it', () => {
    expect(paracetamolTotal(fourGrams, on('20:30')).overLimit).toBe(false);
    expect(paracetamolTotal([...fourGrams, ...doses(500, '14:00')], on('20:30')).overLimit).toBe(true);
  });

  test('two extra tablets at once are not over the limit, three are', () => {
    expect(paracetamolTotal(doses(2000, '08:00'), on('09:00')).overLimit).toBe(false);
    expect(paracetamolTotal(doses(2500, '08:00'), on('09:00')).overLimit).toBe(true);
    const staggered = doses(1000, '08:00', '09:30', '11:30');
    expect(paracetamolTotal(staggered, on('12:00')).overLimit).toBe(true);
  });

  test('a day over the limit counts although it has passed', () => {
    const yesterday = doses(1000, '06:00', '10:00', '14:00', '18:00', '22:00');
    expect(paracetamolTotal(yesterday, on('23:00', 3))).toMatchObject({ atLeastMg: 0, overLimit: true });
  });

  test('two extra tablets are no ground for a next dose', () => {
    const answer = nextDose(PARACETAMOL_UK, gram(on('18:00'), doses(2000, '08:00')));
    expect(answer).toEqual({ kind: 'ask-clinician', reasons: ['extra-taken'] });
  });

  test('the next dose is never due in the past', () => {
    const answer = nextDose(PARACETAMOL_UK, gram(on('15:00'), doses(1000, '08:00', '14:00')));
    expect(answer).toEqual({ kind: 'not-yet', because: 'gap', nextAt: on('18:00') });
  });

  test('four small doses use up the day although its milligrams do not', () => {
    const answer = nextDose(
      PARACETAMOL_UK,
      gram(on('23:59'), doses(500, '08:00', '12:00', '16:00', '19:59')),
    );
    expect(answer).toEqual({ kind: 'not-yet', because: 'limit', nextAt: on('08:00', 3) });
  });
});

describe('ibuprofen', () => {
  test('IB1: 5 h 59 min after a dose it is too soon', () => {
    const answer = nextDose(IBUPROFEN_UK, ibuprofen(on('13:59'), doses(400, '08:00')));
    expect(answer).toEqual({ kind: 'not-yet', because: 'gap', nextAt: on('14:00') });
  });

  test('IB2: with 1,200 mg reached the next is due at 08:00', () => {
    const taken = doses(400, '08:00', '14:00', '20:00');
    const answer = nextDose(IBUPROFEN_UK, ibuprofen(on('02:00', 3), taken));
    expect(answer).toEqual({ kind: 'not-yet', because: 'limit', nextAt: on('08:00', 3) });
  });

  test('IB3: the third dose reaches 1,200 mg', () => {
    const answer = nextDose(IBUPROFEN_UK, ibuprofen(on('20:00'), doses(400, '08:00', '14:00')));
    expect(answer).toEqual({ kind: 'permitted', totalMg: 1200 });
  });

  test('IB4: a prescription of 600 mg four times allows the fourth, 2,400 mg', () => {
    const taken = doses(600, '06:00', '10:00', '14:00');
    const answer = nextDose(IBUPROFEN_PRESCRIBED, { ...ibuprofen(on('18:00'), taken), wantedMg: 600 });
    expect(answer).toEqual({ kind: 'permitted', totalMg: 2400 });
    expect(doseTotal(IBUPROFEN_UK, taken, on('18:00')).overLimit).toBe(true);
  });

  test('IB5: a blood thinner is a caution: no ibuprofen, a clinician', () => {
    const answer = nextDose(IBUPROFEN_UK, { ...ibuprofen(on('20:00'), []), hasCaution: true });
    expect(answer).toEqual({ kind: 'ask-clinician', reasons: ['caution'] });
  });
});

describe('rules of US labels', () => {
  test('PA7: 2 x 500 mg every 6 h, at most 3,000 mg', () => {
    const rule: DoseRule = { ...PARACETAMOL_UK, limitMg: 3000, gapHours: 6 };
    const answer = nextDose(rule, gram(on('23:00'), doses(1000, '08:00', '14:00', '20:00')));
    expect(answer).toEqual({ kind: 'not-yet', because: 'limit', nextAt: on('08:00', 3) });
  });

  test('PA8: 2 x 325 mg every 4 h, at most 3,250 mg', () => {
    const rule: DoseRule = { ...PARACETAMOL_UK, maxDoseMg: 650, limitMg: 3250, maxDoses: 6 };
    const taken = doses(650, '07:00', '11:00', '15:00', '19:00', '23:00');
    const answer = nextDose(rule, { ...gram(on('03:00', 3), taken), wantedMg: 650 });
    expect(answer).toEqual({ kind: 'not-yet', because: 'limit', nextAt: on('07:00', 3) });
  });

  test('IB6: 400 mg every 4 h, at most 1,200 mg', () => {
    const rule: DoseRule = { ...IBUPROFEN_UK, gapHours: 4, maxDoses: 6 };
    const answer = nextDose(rule, ibuprofen(on('20:00'), doses(400, '08:00', '12:00', '16:00')));
    expect(answer).toEqual({ kind: 'not-yet', because: 'limit', nextAt: on('08:00', 3) });
  });
});

describe('what is unknown refuses', () => {
  const taken = doses(1000, '08:00');
  const base = gram(on('18:00'), taken);

  test.each<readonly [string, Partial<DoseQuestion>]>([
    ['weight-unknown', { weightUnder50kg: null }],
    ['products-unknown', { areProductsKnown: false }],
    ['products-unknown', { taken: [{ at: on('08:00'), mg: null }] }],
    ['doses-unknown', { taken: null }],
    ['time-unknown', { taken: [{ at: null, mg: 500 }] }],
    ['time-unknown', { taken: doses(1000, '19:00') }],
    ['caution-unknown', { hasCaution: null }],
    ['dose-too-large', { wantedMg: 1500 }],
    ['dose-too-large', { wantedMg: NaN }],
  ])('%s', (reason, change) => {
    expect(nextDose(PARACETAMOL_UK, base)).toMatchObject({ kind: 'permitted' });
    expect(nextDose(PARACETAMOL_UK, { ...base, ...change })).toEqual({
      kind: 'ask-clinician',
      reasons: [reason],
    });
  });

  test('every reason is given at once', () => {
    const unknown = {
      ...base,
      taken: null,
      weightUnder50kg: null,
      areProductsKnown: false,
      hasCaution: null,
    };
    expect(nextDose(PARACETAMOL_UK, unknown)).toEqual({
      kind: 'ask-clinician',
      reasons: ['weight-unknown', 'products-unknown', 'doses-unknown', 'caution-unknown'],
    });
  });

  test('doses without times are not taken to lie close together, but one too large is over the limit', () => {
    const threeGrams = [...doses(1000, '10:00'), { at: null, mg: 1000 }, { at: null, mg: 1000 }];
    expect(paracetamolTotal(threeGrams, on('18:00')).overLimit).toBe(false);
    expect(paracetamolTotal([{ at: null, mg: 2500 }], on('18:00')).overLimit).toBe(true);
  });

  test('a dose without a time counts in the total, one without a strength makes it a floor', () => {
    const timeless = [...doses(1000, '10:00', '14:00'), { at: null, mg: 2500 }];
    expect(paracetamolTotal(timeless, on('18:00'))).toEqual({
      atLeastMg: 4500,
      isKnown: false,
      overLimit: true,
    });
    const strengthless = [...doses(1000, '10:00'), { at: on('14:00'), mg: null }];
    expect(paracetamolTotal(strengthless, on('18:00'))).toEqual({
      atLeastMg: 1000,
      isKnown: false,
      overLimit: false,
    });
  });
});
