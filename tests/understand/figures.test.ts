/**
 * What is understood of a set of labelled lines, written by somebody who knew the vocabulary and the rules of a safe call
 * and saw neither phrases nor code. The thresholds are the practice's own.
 */
import { describe, expect, test } from 'vitest';
import { figuresOf, scoreLine } from './score.ts';
import { lexicon, lines, vocabulary } from './the-lexicon.ts';

const scored = lines.map((line) => scoreLine(lexicon, vocabulary, line));
const figures = figuresOf(scored);

describe('of the labelled lines', () => {
  test('there are at least 800', () => {
    expect(lines.length).toBeGreaterThanOrEqual(800);
  });

  test('immediate danger is heard in at least 99 of 100', () => {
    expect(figures.dangerRecall).toBeGreaterThanOrEqual(0.99);
  });

  test('danger words in safe contexts raise an alarm in at most 5 of 100', () => {
    expect(figures.falseAlarms).toBeLessThanOrEqual(0.05);
  });

  test('findings of openings are right and are found', () => {
    expect(figures.openingPrecision).toBeGreaterThanOrEqual(0.92);
    expect(figures.openingRecall).toBeGreaterThanOrEqual(RECALL);
  });

  test('replies are read exactly', () => {
    expect(figures.repliesExact).toBeGreaterThanOrEqual(REPLIES);
  });

  test('a worrying reply is read as reassuring in at most 3 of 1000', () => {
    expect(figures.worryingReadAsCalm).toBeLessThanOrEqual(0.003);
  });
});

const RECALL = 0.92;
const REPLIES = 0.96;
