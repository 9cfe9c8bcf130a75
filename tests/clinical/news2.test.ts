/** Source: Royal College of Physicians, National Early Warning Score (NEWS) 2, 2017: chart and worked sums by hand. */
import { describe, expect, test } from 'vitest';
import { bandPoints, news2, newsRisk, NEWS_SATURATION, NEWS_TABLE } from '../../src/clinical/news2.ts';
import type { Consciousness, NewsBand, Observations, SaturationScale } from '../../src/clinical/news2.ts';

type Row = readonly [
  name: string,
  numbers: readonly [
    rr: number,
    spo2: number,
    scale: SaturationScale,
    sbp: number,
    pulse: number,
    temp: number,
  ],
  onOxygen: boolean,
  consciousness: Consciousness,
  parts: readonly number[],
  total: number,
  risk: string,
];

const WORKED: readonly Row[] = [
  ['N1', [16, 97, 1, 122, 78, 37.0], false, 'alert', [0, 0, 0, 0, 0, 0, 0], 0, 'low'],
  ['N2', [22, 94, 1, 108, 112, 38.6], false, 'alert', [2, 1, 0, 1, 2, 0, 1], 7, 'high'],
  ['N3', [18, 96, 1, 118, 84, 37.4], false, 'new-confusion', [0, 0, 0, 0, 0, 3, 0], 3, 'low-medium'],
  ['N4', [20, 95, 2, 132, 96, 36.8], true, 'alert', [0, 2, 2, 0, 1, 0, 0], 5, 'medium'],
  ['N5', [20, 95, 1, 132, 96, 36.8], true, 'alert', [0, 1, 2, 0, 1, 0, 0], 4, 'low'],
  ['N6', [12, 97, 2, 110, 50, 36.0], false, 'alert', [0, 0, 0, 1, 1, 0, 1], 3, 'low'],
  ['N7', [25, 91, 1, 88, 134, 39.2], true, 'responds-to-voice', [3, 3, 2, 3, 3, 3, 2], 19, 'high'],
  ['N8', [21, 93, 1, 101, 91, 38.1], false, 'alert', [2, 2, 0, 1, 1, 0, 1], 7, 'high'],
  ['N9', [24, 92, 1, 100, 110, 39.0], false, 'alert', [2, 2, 0, 2, 1, 0, 1], 8, 'high'],
  ['N10', [8, 83, 2, 220, 40, 35.0], true, 'unresponsive', [3, 3, 2, 3, 3, 3, 3], 20, 'high'],
];

const NOTHING: Observations = {
  'respiratory-rate': null,
  'oxygen-saturation': null,
  'on-oxygen': null,
  'systolic-pressure': null,
  'heart-rate': null,
  consciousness: null,
  temperature: null,
};

function observe([, numbers, onOxygen, consciousness]: Row): Observations {
  const [rr, spo2, , sbp, pulse, temperature] = numbers;
  return {
    'respiratory-rate': rr,
    'oxygen-saturation': spo2,
    'on-oxygen': onOxygen,
    'systolic-pressure': sbp,
    'heart-rate': pulse,
    consciousness,
    temperature,
  };
}

describe('a full set of observations', () => {
  test.each(WORKED)('%s', (...row) => {
    const [, [, , scale], , , parts, total, risk] = row;
    const score = news2(observe(row), scale);
    expect(Object.values(score.parts)).toEqual(parts);
    expect(score.atLeast).toBe(total);
    expect(score.missing).toEqual([]);
    expect(score.anySingleThree).toBe(parts.includes(3));
    expect(newsRisk(score)).toBe(risk);
  });

  test('scale 1 is used unless scale 2 is asked for', () => {
    const seen = { ...NOTHING, 'oxygen-saturation': 90, 'on-oxygen': false };
    expect(news2(seen).parts['oxygen-saturation']).toBe(3);
    expect(news2(seen, 2).parts['oxygen-saturation']).toBe(0);
  });

  test.each([
    ['alert', 0],
    ['new-confusion', 3],
    ['responds-to-voice', 3],
    ['responds-to-pain', 3],
    ['unresponsive', 3],
  ] as const)('%s scores %i', (consciousness, points) => {
    expect(news2({ ...NOTHING, consciousness }).parts.consciousness).toBe(points);
  });
});

describe('both sides of every published border', () => {
  test.each([
    ['respiratory-rate', 8, 3, 9, 1],
    ['respiratory-rate', 11, 1, 12, 0],
    ['respiratory-rate', 20, 0, 21, 2],
    ['respiratory-rate', 24, 2, 25, 3],
    ['systolic-pressure', 90, 3, 91, 2],
    ['systolic-pressure', 100, 2, 101, 1],
    ['systolic-pressure', 110, 1, 111, 0],
    ['systolic-pressure', 219, 0, 220, 3],
    ['heart-rate', 40, 3, 41, 1],
    ['heart-rate', 50, 1, 51, 0],
    ['heart-rate', 90, 0, 91, 1],
    ['heart-rate', 110, 1, 111, 2],
    ['heart-rate', 130, 2, 131, 3],
    ['temperature', 35.0, 3, 35.1, 1],
    ['temperature', 36.0, 1, 36.1, 0],
    ['temperature', 38.0, 0, 38.1, 1],
    ['temperature', 39.0, 1, 39.1, 2],
  ] as const)('%s %d scores %i, %d scores %i', (name, below, pointsBelow, above, pointsAbove) => {
    expect(news2({ ...NOTHING, [name]: below }).parts[name]).toBe(pointsBelow);
    expect(news2({ ...NOTHING, [name]: above }).parts[name]).toBe(pointsAbove);
  });

  test.each([
    [1, false, 91, 3, 92, 2],
    [1, false, 93, 2, 94, 1],
    [1, false, 95, 1, 96, 0],
    [2, false, 83, 3, 84, 2],
    [2, false, 85, 2, 86, 1],
    [2, false, 87, 1, 88, 0],
    [2, false, 92, 0, 93, 0],
    [2, true, 83, 3, 84, 2],
    [2, true, 85, 2, 86, 1],
    [2, true, 87, 1, 88, 0],
    [2, true, 92, 0, 93, 1],
    [2, true, 94, 1, 95, 2],
    [2, true, 96, 2, 97, 3],
  ] as const)(
    'saturation scale %i, oxygen %s: %i scores %i, %i scores %i',
    (scale, onOxygen, a, pointsA, b, pointsB) => {
      const seen = { ...NOTHING, 'on-oxygen': onOxygen };
      expect(news2({ ...seen, 'oxygen-saturation': a }, scale).parts['oxygen-saturation']).toBe(pointsA);
      expect(news2({ ...seen, 'oxygen-saturation': b }, scale).parts['oxygen-saturation']).toBe(pointsB);
    },
  );

  test.each([
    ['temperature', 38.05, 1],
    ['temperature', 35.05, 3],
    ['temperature', 36.05, 1],
    ['temperature', 39.05, 2],
    ['respiratory-rate', 20.5, 2],
    ['respiratory-rate', 8.5, 3],
    ['systolic-pressure', 219.5, 3],
  ] as const)('%s %d, between two borders, scores the higher: %i', (name, between, points) => {
    expect(news2({ ...NOTHING, [name]: between }).parts[name]).toBe(points);
  });

  test('the tables leave no gap: each band begins one step after the one before', () => {
    const tables: readonly (readonly [string, readonly NewsBand[]])[] = Object.entries({
      ...NEWS_TABLE,
      ...NEWS_SATURATION,
    });
    for (const [name, bands] of tables) {
      const step = name === 'temperature' ? 0.1 : 1;
      expect(bands[0]?.atLeast).toBeNull();
      expect(bands.at(-1)?.atMost).toBeNull();
      for (const [index, band] of bands.slice(1).entries()) {
        expect(band.atLeast).toBeCloseTo((bands[index]?.atMost ?? NaN) + step, 6);
      }
    }
  });

  test('what is no number is a defect, never a normal value', () => {
    expect(() => bandPoints(NEWS_TABLE.temperature, NaN)).toThrow();
  });
});

describe('by telephone', () => {
  test('nothing measured is at least 0 with everything missing', () => {
    const score = news2(NOTHING);
    expect(score.atLeast).toBe(0);
    expect(score.measured).toEqual([]);
    expect(score.missing).toHaveLength(7);
    expect(Object.values(score.parts)).toEqual([null, null, null, null, null, null, null]);
  });

  test('a part of the set is a floor that names what is missing', () => {
    const score = news2({ ...NOTHING, 'heart-rate': 112, temperature: 39.2, consciousness: 'new-confusion' });
    expect(score.atLeast).toBe(2 + 2 + 3);
    expect(score.measured).toEqual(['heart-rate', 'consciousness', 'temperature']);
    expect(score.missing).toEqual([
      'respiratory-rate',
      'oxygen-saturation',
      'on-oxygen',
      'systolic-pressure',
    ]);
    expect(score.anySingleThree).toBe(true);
  });

  test('leaving out an observation never raises the total of a worked example', () => {
    for (const row of WORKED) {
      const seen = observe(row);
      const full = news2(seen, row[1][2]).atLeast;
      for (const name of Object.keys(NOTHING)) {
        const score = news2({ ...seen, [name]: null }, row[1][2]);
        expect(score.atLeast).toBeLessThanOrEqual(full);
        expect(score.missing).toContain(name);
      }
    }
  });

  test('on scale 2 a high saturation is not scored while oxygen is unknown, a low one is', () => {
    const high = news2({ ...NOTHING, 'oxygen-saturation': 95 }, 2);
    expect(high.parts['oxygen-saturation']).toBeNull();
    expect(high.missing).toContain('oxygen-saturation');
    expect(news2({ ...NOTHING, 'oxygen-saturation': 83 }, 2).parts['oxygen-saturation']).toBe(3);
  });
});
