/** Numbers between two steps of a finding's grid count on the worrying side. */
import { describe, expect, it } from 'vitest';
import { isAtLeastAsBad } from '../../src/clinical/worse-value.ts';
import { onGrid, type FindingSpec } from '../../src/clinical/finding.ts';

const temperature: FindingSpec = {
  id: 'temperature',
  group: 'whole-body',
  kind: 'number',
  is: 'body temperature',
  values: [],
  unit: 'degC',
  min: 30,
  max: 44,
  step: 0.1,
  normal: 36.8,
  worse: 'away',
  order: null,
  optional: false,
  only: null,
  when: null,
};
const drain: FindingSpec = {
  ...temperature,
  id: 'drain-fluid',
  kind: 'choice',
  values: ['straw', 'pink', 'bright-blood', 'cloudy'],
  normal: 'straw',
  worse: 'later',
  order: [
    ['straw', 'pink', 'bright-blood'],
    ['straw', 'cloudy'],
  ],
};

describe('a number on its grid', () => {
  // RCP NEWS2 2017 prints temperature to one decimal: 38.0 scores 0 and 38.1 scores 1, so 38.05 must be one of them.
  it.each([
    [38.05, 38.1],
    [38.1, 38.1],
    [35.04, 35],
    [36.8, 36.8],
    [39.099, 39.1],
  ])('%d counts as %d', (said, counts) => {
    expect(onGrid(temperature, said)).toBe(counts);
  });

  it('is left alone where it is no number', () => {
    expect(onGrid(temperature, 'unsure')).toBe('unsure');
  });
});

describe('which of two values is worse', () => {
  it('follows the chains of the vocabulary, and orders nothing else', () => {
    expect(isAtLeastAsBad(drain, 'pink', 'bright-blood')).toBe(true);
    expect(isAtLeastAsBad(drain, 'bright-blood', 'pink')).toBe(false);
    expect(isAtLeastAsBad(drain, 'cloudy', 'bright-blood')).toBe(false);
  });

  it('goes away from normal on both sides for a temperature', () => {
    expect(isAtLeastAsBad(temperature, 38, 38.5)).toBe(true);
    expect(isAtLeastAsBad(temperature, 35.5, 35)).toBe(true);
    expect(isAtLeastAsBad(temperature, 38, 35)).toBe(false);
  });

  it('never lets "I don\'t know" make a stated worry milder', () => {
    expect(isAtLeastAsBad(temperature, 39, 'unsure')).toBe(false);
    expect(isAtLeastAsBad(temperature, 36.8, 'unsure')).toBe(true);
  });
});
