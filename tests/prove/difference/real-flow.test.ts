/**
 * Edits of a real flow, each of one kind: the difference names the move that the edit was made for. No rule of the flow
 * looks at a new medicine, so that what comes of it here comes of the edit.
 */
import { expect, test } from 'vitest';
import { LADDER, SAME_DAY, WITHIN_THE_HOUR, ADVISE } from '../../../src/clinical/outcome.ts';
import type { CompiledFlow } from '../../../src/flow/compiled.ts';
import {
  differenceOf,
  shortestMoves,
  type DifferenceBudget,
} from '../../../src/prove/difference/difference.ts';
import { atLeast, days, is, points, question } from '../../support/a-flow.ts';
import { realContent } from '../../support/real-flows.ts';
import { changedRule, tampered, withRule } from '../../support/tampered.ts';

const lift = realContent().library.flowFor(['breast-lift']);
/** Small: what the counts come to is tried on small flows. */
const BUDGET: DifferenceBudget = { steps: 20_000, states: 50, work: 500 };

function movesOf(before: CompiledFlow, after: CompiledFlow) {
  return shortestMoves(differenceOf(before, after, BUDGET)).map(({ from, to, example, days: on }) => ({
    from,
    to,
    findings: example.findings,
    on,
  }));
}

test('days taken from a red flag: urgent becomes a same-day review on just those days', () => {
  const shorter = changedRule(lift, 'lift-nipple-colour', (rule) => [{ ...rule, window: days(0, 4) }]);
  const last = lift.flow.rules.find(({ id }) => id === 'lift-nipple-colour')?.window.days[1] ?? 0;
  expect(movesOf(lift, shorter)).toEqual([
    {
      from: WITHIN_THE_HOUR,
      to: SAME_DAY,
      findings: { 'nipple-colour': 'pale' },
      on: [`days 5-${String(last)}`],
    },
  ]);
});

test('a rule that is new on some days, and gone again', () => {
  const rule = atLeast('pill', is('new-medicine', 'yes'), LADDER[3], days(300, 305));
  const more = withRule(lift, rule);
  const added = movesOf(lift, more).find(({ from }) => from === ADVISE);
  expect(added).toEqual({
    from: ADVISE,
    to: LADDER[3],
    findings: { 'new-medicine': 'yes' },
    on: ['days 300-305', 'day unknown'],
  });
  const removed = movesOf(more, lift).find(({ to }) => to === ADVISE);
  expect(removed).toEqual({ ...added, from: LADDER[3], to: ADVISE });
});

test('points that become more reach a threshold that they did not reach', () => {
  const on = { concern: 'healing', window: days(300, 305) };
  const few = withRule(lift, points('pill', is('new-medicine', 'yes'), { points: 1, ...on }));
  const many = withRule(lift, points('pill', is('new-medicine', 'yes'), { points: 2, ...on }));
  const moves = movesOf(few, many);
  const [least] = lift.flow.concerns.find(({ id }) => id === 'healing')?.thresholds ?? [];
  expect(least?.points).toBe(2);
  expect(moves[0]).toMatchObject({ from: ADVISE, to: least?.to, findings: { 'new-medicine': 'yes' } });
});

test('other words, and a question that is new, move nothing and are named', () => {
  const reworded = tampered(lift, ({ questions }) => ({
    questions: [
      ...questions.map((one) => ({ ...one, why: `${one.why} ` })),
      question('scent', { findings: ['smell'] }),
    ],
  }));
  const difference = differenceOf(lift, reworded, BUDGET);
  expect(difference.classes).toEqual([]);
  expect(new Set(difference.changes.map(({ what }) => what))).toEqual(new Set(['why', 'whole']));
});
