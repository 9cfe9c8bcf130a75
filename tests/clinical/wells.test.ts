/** Source: two-level Wells tables as used in NICE NG158; worked sums by hand; the day windows are practice rules. */
import { describe, expect, test } from 'vitest';
import {
  dvtByTelephone,
  majorSurgeryWithin12Weeks,
  peByTelephone,
  surgeryWithin4Weeks,
  type ChestFacts,
  type LegFacts,
} from '../../src/clinical/wells-by-telephone.ts';
import { WELLS_DVT, WELLS_PE, wellsScore } from '../../src/clinical/wells.ts';
import type { DvtItem, PeItem, WellsAnswer } from '../../src/clinical/wells.ts';

const NO_DVT: Readonly<Record<DvtItem, WellsAnswer>> = {
  'active-cancer': 'no',
  'leg-in-plaster-or-weak': 'no',
  'bed-or-surgery': 'no',
  'deep-vein-tenderness': 'no',
  'whole-leg-swollen': 'no',
  'calf-3cm-larger': 'no',
  'pitting-one-leg': 'no',
  'leg-veins-raised': 'no',
  'previous-dvt': 'no',
  'alternative-as-likely': 'no',
};

const NO_PE: Readonly<Record<PeItem, WellsAnswer>> = {
  'signs-of-dvt': 'no',
  'alternative-less-likely': 'no',
  'heart-rate-above-100': 'no',
  'immobile-or-surgery': 'no',
  'previous-clot': 'no',
  'coughing-blood': 'no',
  'active-cancer': 'no',
};

const surgery = (day: number, anaesthetic: 'general' | 'local'): WellsAnswer =>
  majorSurgeryWithin12Weeks({ day, anaesthetic });
const larger = (centimetres: number): WellsAnswer => (centimetres >= 3 ? 'yes' : 'no');
const fast = (heartRate: number): WellsAnswer =>
  peByTelephone({ ...NO_CHEST_FACTS, heartRate }).atLeast === 1.5 ? 'yes' : 'no';

const NO_FACTS = { day: 100, bedFor3Days: false, activeCancer: false, previousClot: false } as const;
const NO_CHEST_FACTS: ChestFacts = {
  ...NO_FACTS,
  anaesthetic: 'general',
  oneLegSwollen: false,
  deepVeinTenderness: false,
  heartRate: 76,
  coughingBlood: false,
};
const NO_LEG_FACTS: LegFacts = {
  ...NO_FACTS,
  anaesthetic: 'general',
  legInPlasterOrWeak: false,
  deepVeinTenderness: false,
  wholeLegSwollen: false,
  calf3cmLarger: false,
  pittingOneLeg: false,
  legVeinsRaised: false,
};

describe('deep vein thrombosis', () => {
  test.each<readonly [string, Partial<Record<DvtItem, WellsAnswer>>, number, string]>([
    [
      'D1 tummy tuck day 12, whole leg, calf 4 cm',
      { 'bed-or-surgery': surgery(12, 'general'), 'whole-leg-swollen': 'yes', 'calf-3cm-larger': larger(4) },
      3,
      'likely',
    ],
    [
      'D2 carpal tunnel under local day 5, tender, calf strain as likely',
      {
        'bed-or-surgery': surgery(5, 'local'),
        'deep-vein-tenderness': 'yes',
        'alternative-as-likely': 'yes',
      },
      -1,
      'unlikely',
    ],
    [
      'D3 hernia day 9, tender',
      { 'bed-or-surgery': surgery(9, 'general'), 'deep-vein-tenderness': 'yes' },
      2,
      'likely',
    ],
    [
      'D4 breast augmentation day 20, calf 2 cm',
      { 'bed-or-surgery': surgery(20, 'general'), 'calf-3cm-larger': larger(2) },
      1,
      'unlikely',
    ],
    [
      'D5 excision under local, cancer, clot before, pitting, varicose veins only, other as likely',
      {
        'bed-or-surgery': surgery(5, 'local'),
        'active-cancer': 'yes',
        'previous-dvt': 'yes',
        'pitting-one-leg': 'yes',
        'alternative-as-likely': 'yes',
      },
      1,
      'unlikely',
    ],
    [
      'D6 facelift day 85, whole leg, calf 3.0 cm',
      { 'bed-or-surgery': surgery(85, 'general'), 'whole-leg-swollen': 'yes', 'calf-3cm-larger': larger(3) },
      2,
      'likely',
    ],
  ])('%s', (_name, given, sum, level) => {
    expect(wellsScore(WELLS_DVT, { ...NO_DVT, ...given })).toEqual({ atLeast: sum, unknown: [], level });
  });

  test('the range is -2 to 9', () => {
    const points = Object.values(WELLS_DVT.items).map((item) => item.points);
    const sum = (of: readonly number[]): number => of.reduce((all, each) => all + each, 0);
    expect(sum(points.filter((each) => each < 0))).toBe(-2);
    expect(sum(points.filter((each) => each > 0))).toBe(9);
  });

  test('surgery counts to day 84, under general or regional anaesthesia', () => {
    expect(surgery(0, 'general')).toBe('yes');
    expect(surgery(84, 'general')).toBe('yes');
    expect(surgery(85, 'general')).toBe('no');
    expect(surgery(-1, 'general')).toBe('no');
    expect(majorSurgeryWithin12Weeks({ day: 10, anaesthetic: 'spinal-or-regional' })).toBe('yes');
    expect(majorSurgeryWithin12Weeks({ day: 10, anaesthetic: 'sedation' })).toBe('unknown');
    expect(majorSurgeryWithin12Weeks({ day: 10, anaesthetic: null })).toBe('unknown');
    expect(majorSurgeryWithin12Weeks({ day: null, anaesthetic: 'general' })).toBe('unknown');
  });
});

describe('pulmonary embolism', () => {
  test.each<readonly [string, Partial<Record<PeItem, WellsAnswer>>, number, string]>([
    [
      'P1 tummy tuck day 10, pulse 118, embolism most likely',
      {
        'immobile-or-surgery': surgeryWithin4Weeks(10),
        'heart-rate-above-100': fast(118),
        'alternative-less-likely': 'yes',
      },
      6,
      'likely',
    ],
    [
      'P2 liposuction day 6, blood in sputum, pulse 96, chest infection more likely',
      {
        'immobile-or-surgery': surgeryWithin4Weeks(6),
        'coughing-blood': 'yes',
        'heart-rate-above-100': fast(96),
      },
      2.5,
      'unlikely',
    ],
    [
      'P3 day 14, pulse 101, coughing blood: exactly on the border',
      {
        'immobile-or-surgery': surgeryWithin4Weeks(14),
        'heart-rate-above-100': fast(101),
        'coughing-blood': 'yes',
      },
      4,
      'unlikely',
    ],
    [
      'P4 day 20, signs of thrombosis',
      { 'immobile-or-surgery': surgeryWithin4Weeks(20), 'signs-of-dvt': 'yes' },
      4.5,
      'likely',
    ],
    [
      'P5 day 29, thrombosis before, pulse exactly 100',
      {
        'immobile-or-surgery': surgeryWithin4Weeks(29),
        'previous-clot': 'yes',
        'heart-rate-above-100': fast(100),
      },
      1.5,
      'unlikely',
    ],
    [
      'P6 day 28, pulse 101, embolism before',
      {
        'immobile-or-surgery': surgeryWithin4Weeks(28),
        'heart-rate-above-100': fast(101),
        'previous-clot': 'yes',
      },
      4.5,
      'likely',
    ],
  ])('%s', (_name, given, sum, level) => {
    expect(wellsScore(WELLS_PE, { ...NO_PE, ...given })).toEqual({ atLeast: sum, unknown: [], level });
  });

  test('the range is 0 to 12.5', () => {
    const all = Object.values(WELLS_PE.items).reduce((sum, item) => sum + item.points, 0);
    expect(wellsScore(WELLS_PE, NO_PE).atLeast).toBe(0);
    expect(all).toBe(12.5);
  });
});

describe('by telephone', () => {
  test('D1 told by telephone is at least 3, with the other diagnosis left unknown', () => {
    const score = dvtByTelephone({ ...NO_LEG_FACTS, day: 12, wholeLegSwollen: true, calf3cmLarger: true });
    expect(score).toEqual({ atLeast: 3, unknown: ['alternative-as-likely'], level: 'likely' });
  });

  test('hand-and-tape items that nobody did are listed, and the score stays open', () => {
    const score = dvtByTelephone({
      ...NO_LEG_FACTS,
      day: 9,
      deepVeinTenderness: null,
      calf3cmLarger: null,
      pittingOneLeg: null,
    });
    expect(score.atLeast).toBe(1);
    expect(score.unknown).toEqual([
      'deep-vein-tenderness',
      'calf-3cm-larger',
      'pitting-one-leg',
      'alternative-as-likely',
    ]);
    expect(score.level).toBe('open');
  });

  test('an unknown operation is not a no, unless bed rest settles the item', () => {
    const unknown = { ...NO_LEG_FACTS, day: null, anaesthetic: null };
    expect(dvtByTelephone(unknown).unknown).toContain('bed-or-surgery');
    expect(dvtByTelephone({ ...unknown, bedFor3Days: true })).toMatchObject({ atLeast: 1 });
  });

  test('P4 told by telephone: leg swelling with tender deep veins; one of them alone is not enough', () => {
    const day20 = { ...NO_CHEST_FACTS, day: 20, oneLegSwollen: true };
    expect(peByTelephone({ ...day20, deepVeinTenderness: true }).atLeast).toBe(4.5);
    expect(peByTelephone({ ...day20, deepVeinTenderness: false }).atLeast).toBe(1.5);
    expect(peByTelephone({ ...day20, deepVeinTenderness: null }).unknown).toEqual([
      'signs-of-dvt',
      'alternative-less-likely',
    ]);
  });

  test('a pulse that was not counted is unknown', () => {
    expect(peByTelephone({ ...NO_CHEST_FACTS, heartRate: null }).unknown).toContain('heart-rate-above-100');
  });

  test('the score is unlikely only when the three points still open cannot pass the border', () => {
    expect(peByTelephone(NO_CHEST_FACTS).level).toBe('unlikely');
    expect(peByTelephone({ ...NO_CHEST_FACTS, day: 10 }).level).toBe('open');
  });
});
