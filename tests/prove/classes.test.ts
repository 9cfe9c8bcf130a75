/** What is taken as one: moments that no window parts, values that no test parts. Nothing is left out or counted twice. */
import { describe, expect, test } from 'vitest';
import { testHolds } from '../../src/clinical/condition.ts';
import type { Test } from '../../src/clinical/finding.ts';
import { holdsAt, type Window } from '../../src/clinical/window.ts';
import { countCombinations } from '../../src/prove/combinations.ts';
import { POSSIBLE_TIMES, timeClasses } from '../../src/prove/times.ts';
import { countValues, distinctValues, worsePairs } from '../../src/prove/values.ts';
import { aFlow, choice, days, is, numeric, question, yesNo } from '../support/a-flow.ts';
import { valuesOf } from '../support/every-answer.ts';

describe('moments after surgery', () => {
  const windows: readonly Window[] = [
    days(0, 14),
    days(5, 365),
    { days: [0, 2], hours: [0, 47] },
    { days: [0, 1], hours: [12, 24] },
  ];
  const classes = timeClasses(windows);

  test('are every day with unknown hours, every hour of the first 72 on both its days, and the unknown day', () => {
    expect(POSSIBLE_TIMES).toHaveLength(366 + 73 * 2 + 1);
    // Hour 30 falls on day 1, or on day 2 where surgery ended late enough (arithmetic).
    const days30 = POSSIBLE_TIMES.filter(({ hours }) => hours === 30).map(({ day }) => day);
    expect(days30).toEqual([1, 2]);
  });

  test('are each in exactly one class', () => {
    expect(new Set(classes.flatMap(({ times }) => times))).toEqual(new Set(POSSIBLE_TIMES));
    expect(classes.flatMap(({ times }) => times)).toHaveLength(POSSIBLE_TIMES.length);
  });

  test('read alike in a class, and apart in two', () => {
    const read = classes.map(({ times }) => [
      ...new Set(times.map((time) => windows.map((window) => holdsAt(window, time)).join())),
    ]);
    expect(read.every(({ length }) => length === 1)).toBe(true);
    expect(new Set(read.flat()).size).toBe(classes.length);
  });
});

describe('values of a number', () => {
  const spec = numeric('temperature', { min: 30, max: 44, step: 0.1, normal: 36.8, worse: 'away' });
  const tests: readonly Test[] = [
    { finding: 'temperature', atLeast: 38 },
    { finding: 'temperature', atLeast: 38.5 },
    { finding: 'temperature', atMost: 35 },
    { finding: 'temperature', in: ['unsure'] },
  ];
  const read = (value: number | string) => tests.map((one) => testHolds(one, { temperature: value })).join();

  test('are one for each run that reads alike, on the grid, with normal for its own', () => {
    const values = distinctValues(spec, tests);
    expect(values).toEqual([35, 36.8, 38, 38.5, 'unsure']);
    const all = Array.from({ length: 141 }, (_, at) => read(Number((30 + at * 0.1).toFixed(1))));
    expect(new Set(values.slice(0, -1).map(read))).toEqual(new Set(all));
    expect(countValues(spec)).toBe(141);
  });

  test('get worse on both sides of normal', () => {
    expect(worsePairs(spec, distinctValues(spec, tests))).toEqual([
      { better: 36.8, worse: 38 },
      { better: 38, worse: 38.5 },
      { better: 36.8, worse: 35 },
    ]);
  });
});

describe('worse answers', () => {
  test.each([
    ['yes of a yes-no', yesNo('a'), [['no', 'yes']]],
    ['no where it says so', yesNo('a', { worse: 'no' }), [['yes', 'no']]],
    ['none where neither is', yesNo('a', { worse: 'neither' }), []],
    [
      'the later of a choice',
      choice('a', ['x', 'y', 'z']),
      [
        ['x', 'y'],
        ['y', 'z'],
      ],
    ],
    [
      'those of its chains',
      choice('a', ['x', 'y', 'z'], {
        order: [
          ['x', 'y'],
          ['x', 'z'],
        ],
      }),
      [
        ['x', 'y'],
        ['x', 'z'],
      ],
    ],
    ['less of a number that falls', numeric('a', { min: 0, max: 2, worse: 'down' }), [[1, 0]]],
  ])('%s', (_what, spec, pairs) => {
    const values = distinctValues(spec, [{ finding: 'a', atMost: 0 }]);
    expect(worsePairs(spec, values).map(({ better, worse }) => [better, worse])).toEqual(pairs);
  });
});

describe('combinations of answers', () => {
  test('multiply the values of each finding, unsure and not reached', () => {
    const score = numeric('score', { min: 0, max: 10, normal: 2 });
    const { flow } = aFlow({ findings: [yesNo('a'), choice('b', ['x', 'y', 'z']), score], rules: [] });
    // Two dangers of the screen and a: 4 each; b: 3 + 2; score: 11 + 2 (arithmetic).
    expect(countCombinations(flow)).toBe(4n ** 3n * 5n * 13n);
  });

  test('open what hangs on an answer only there', () => {
    const swelling = choice('swelling', ['none', 'even']);
    const tense = yesNo('tense', { when: is('swelling', 'even', 'unsure') });
    const { flow } = aFlow({ findings: [swelling, tense], rules: [] });
    // Swelling not reached or none: 1 each; even or unsure: the 4 ways of tense (arithmetic).
    expect(countCombinations(flow)).toBe(4n ** 2n * (2n + 2n * 4n));
    const perFinding = valuesOf(swelling).length + 2;
    expect(perFinding).toBe(4);
  });

  test('leave out what no question settles', () => {
    const { flow } = aFlow({ findings: [yesNo('a'), yesNo('b')], rules: [], questions: [question('a')] });
    expect(countCombinations(flow)).toBe(4n ** 3n);
  });
});
