/** Source: the definition of the Fahrenheit scale, (F - 32) x 5/9; the ranges without a unit are a practice rule. */
import { describe, expect, test } from 'vitest';
import { celsius, fahrenheit, readTemperature } from '../../src/clinical/temperature.ts';

describe('conversion', () => {
  test.each([
    [95.0, 35.0],
    [96.8, 36.0],
    [98.6, 37.0],
    [100.4, 38.0],
    [101.3, 38.5],
    [102.2, 39.0],
    [212, 100],
  ])('%d F is %d C, and back', (inF, inC) => {
    expect(celsius(inF)).toBe(inC);
    expect(fahrenheit(inC)).toBe(inF);
  });
});

describe('a number without a unit', () => {
  test.each([
    [34, 34, 'C'],
    [38, 38, 'C'],
    [43, 43, 'C'],
    [100, 37.8, 'F'],
    [100.4, 38, 'F'],
    [102.2, 39, 'F'],
  ] as const)('%d is %d degrees Celsius, given in %s', (said, inC, given) => {
    expect(readTemperature(said, null)).toEqual({ ok: true, value: { celsius: inC, given } });
  });

  test('93 and 108 are the borders of Fahrenheit', () => {
    expect(readTemperature(93, null)).toMatchObject({ value: { given: 'F' } });
    expect(readTemperature(108, null)).toMatchObject({ value: { given: 'F' } });
  });

  test.each([33.9, 43.1, 92.9, 108.1, 50, 3.8, 385, 0, -38, NaN, Infinity])('%d is asked again', (said) => {
    const result = readTemperature(said, null);
    expect(result).toMatchObject({ ok: false, fault: { code: 'out-of-range' } });
  });
});

describe('a stated unit', () => {
  test('wins where it is plausible', () => {
    expect(readTemperature(33, 'C')).toEqual({ ok: true, value: { celsius: 33, given: 'C' } });
    expect(readTemperature(90.5, 'F')).toEqual({ ok: true, value: { celsius: 32.5, given: 'F' } });
  });

  test.each([
    [100, 'C'],
    [29.9, 'C'],
    [44.1, 'C'],
    [38, 'F'],
    [85.9, 'F'],
    [111.3, 'F'],
    [NaN, 'C'],
  ] as const)('%d %s is not possible and is asked again', (said, unit) => {
    expect(readTemperature(said, unit)).toMatchObject({ ok: false, fault: { code: 'out-of-range' } });
  });

  test('what lies between two tenths goes to the more worrying one', () => {
    // 100.5 F = 38.06 C, 98.4 F = 36.89 C, 96.7 F = 35.94 C
    expect(readTemperature(100.5, 'F')).toMatchObject({ value: { celsius: 38.1 } });
    expect(readTemperature(98.4, 'F')).toMatchObject({ value: { celsius: 36.8 } });
    expect(readTemperature(96.7, 'F')).toMatchObject({ value: { celsius: 35.9 } });
    expect(readTemperature(38.02, 'C')).toMatchObject({ value: { celsius: 38.1 } });
    expect(readTemperature(38.05, 'C')).toMatchObject({ value: { celsius: 38.1 } });
    expect(readTemperature(35.05, 'C')).toMatchObject({ value: { celsius: 35.0 } });
  });

  test('every tenth of a degree stays itself', () => {
    for (let tenths = 300; tenths <= 440; tenths += 1) {
      expect(readTemperature(tenths / 10, 'C')).toEqual({
        ok: true,
        value: { celsius: tenths / 10, given: 'C' },
      });
    }
  });
});
