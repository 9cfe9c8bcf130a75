/** There is always somebody to ring. */
import { readFileSync } from 'node:fs';
import { parse } from 'yaml';
import { expect, test } from 'vitest';
import { onCallNow } from '../../src/desk/on-call.ts';
import { practiceSchema, type Practice } from '../../src/people/practice.ts';

const practice = practiceSchema.parse(parse(readFileSync('flows/practice.yaml', 'utf8')));
const TUESDAY = Date.parse('2026-03-10T10:00:00Z');
const nobody = { first: null, second: null, consultant: null };

function withTuesday(rungs: Practice['rota']['week']['tuesday']): Practice {
  return { ...practice, rota: { ...practice.rota, week: { ...practice.rota.week, tuesday: rungs } } };
}

test('an empty rota gives the consultant of last resort', () => {
  const { ladder, gaps } = onCallNow(withTuesday(nobody), TUESDAY);
  expect(ladder.map(({ rung, name }) => [rung, name])).toEqual([['last-resort', 'Miss Ottoline Farrant']]);
  expect(gaps).toEqual(['first', 'second', 'consultant']);
});

test('a gap on the first rung is said, and the next one is rung first', () => {
  const { ladder, gaps } = onCallNow(withTuesday({ ...practice.rota.week.tuesday, first: null }), TUESDAY);
  expect(ladder[0]?.name).toBe('Dr Ines Carrow');
  expect(gaps).toEqual(['first']);
});
