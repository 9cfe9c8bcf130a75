/**
 * Source: CDC/NHSN manual, surgical site infection (procedure date = day 1, windows of 30 and 90 days); the list of
 * 90-day categories is from memory; which category a procedure belongs to is a practice rule.
 */
import { describe, expect, test } from 'vitest';
import {
  isInSurveillance,
  surveillanceAnswer,
  type Depth,
  type SuspectedInfection,
} from '../../src/clinical/surveillance-window.ts';

const NOTHING = { met: [], unknown: [], stitchPointsOnly: false } as const;

describe('worked cases', () => {
  test.each<readonly [string, SuspectedInfection, string]>([
    [
      'S1 breast augmentation day 24, pus from the edge, skin only',
      { ...NOTHING, procedure: 'breast-augmentation', day: 24, depth: 'superficial', met: ['pus'] },
      'counted',
    ],
    [
      'S2 breast augmentation day 45, pus from the pocket through the deep wound',
      { ...NOTHING, procedure: 'breast-augmentation', day: 45, depth: 'deep', met: ['pus'] },
      'counted',
    ],
    [
      'S3 breast augmentation day 35, pus, skin only',
      { ...NOTHING, procedure: 'breast-augmentation', day: 35, depth: 'superficial', met: ['pus'] },
      'outside-window',
    ],
    [
      'S4 facelift day 40, deep abscess',
      { ...NOTHING, procedure: 'face-lift', day: 40, depth: 'deep', met: ['abscess'] },
      'outside-window',
    ],
    [
      'S5 hernia day 6, redness and warmth only',
      { ...NOTHING, procedure: 'hernia-repair', day: 6, depth: 'superficial' },
      'not-met',
    ],
    [
      'S6 excision day 8, one pimple at a stitch hole',
      {
        procedure: 'skin-lesion',
        day: 8,
        depth: 'superficial',
        met: ['pus'],
        unknown: [],
        stitchPointsOnly: true,
      },
      'not-met',
    ],
  ])('%s', (_name, infection, answer) => {
    expect(surveillanceAnswer(infection)).toBe(answer);
  });
});

describe('windows by procedure', () => {
  const ninetyDays = ['breast-lift', 'breast-reduction', 'breast-augmentation', 'hernia-repair'];
  const thirtyDays = [
    'tummy-tuck',
    'liposuction',
    'eyelid-surgery',
    'face-lift',
    'nose-surgery',
    'skin-lesion',
    'skin-graft',
    'carpal-tunnel',
  ];
  const lastDays: readonly (readonly [string, Depth, number])[] = [
    ...[...ninetyDays, ...thirtyDays].map((procedure) => [procedure, 'superficial', 29] as const),
    ...ninetyDays.map((procedure) => [procedure, 'deep', 89] as const),
    ...ninetyDays.map((procedure) => [procedure, 'organ-space', 89] as const),
    ...thirtyDays.map((procedure) => [procedure, 'deep', 29] as const),
    ...thirtyDays.map((procedure) => [procedure, 'organ-space', 29] as const),
  ];

  test.each(lastDays)('%s, %s: day 0 to %i', (procedure, depth, last) => {
    expect(isInSurveillance(procedure, depth, -1)).toBe(false);
    expect(isInSurveillance(procedure, depth, 0)).toBe(true);
    expect(isInSurveillance(procedure, depth, last)).toBe(true);
    expect(isInSurveillance(procedure, depth, last + 1)).toBe(false);
  });

  test('a procedure that is not on the list has no known window', () => {
    expect(isInSurveillance('hair-transplant', 'deep', 5)).toBeNull();
  });
});

describe('what is unknown', () => {
  const infection: SuspectedInfection = {
    ...NOTHING,
    procedure: 'tummy-tuck',
    day: 5,
    depth: 'superficial',
    met: ['pus'],
  };

  test.each<readonly [string, Partial<SuspectedInfection>]>([
    ['the depth', { depth: null }],
    ['the procedure', { procedure: 'hair-transplant' }],
    ['whether stitch points only', { stitchPointsOnly: null }],
    ['the one criterion', { met: [], unknown: ['clinician-diagnosis'] }],
    ['the site-specific definition of organ and space', { depth: 'organ-space', met: ['abscess'] }],
  ])('%s: a person has to look', (_name, change) => {
    expect(surveillanceAnswer(infection)).toBe('counted');
    expect(surveillanceAnswer({ ...infection, ...change })).toBe('unknown');
  });

  test('a criterion of another depth does not count', () => {
    expect(surveillanceAnswer({ ...infection, depth: 'deep', met: ['clinician-diagnosis'] })).toBe('not-met');
  });
});
