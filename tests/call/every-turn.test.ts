/** Whatever happens at whatever turn of a call, there is a record and an outcome. Source: the practice's rules. */
import { describe, expect, test } from 'vitest';
import { rank } from '../../src/clinical/outcome.ts';
import { aPractice } from '../support/a-practice.ts';
import type { Ring, Says } from '../support/a-ring.ts';
import type { TurnInput } from '../../src/call/input.ts';

const practice = aPractice();

/** A call with an opened group, a follow-up question and a review at its end. */
const SAYS: Says = { 'calf-pain': 'no', 'one-leg-swollen': 'no', swelling: 'one-sided', 'low-mood': 'yes' };

async function played(turns: number): Promise<Ring> {
  const ring = await practice.ring({ number: null });
  for (let n = 0; n < turns && ring.question !== null; n += 1) await ring.answerNext(SAYS);
  return ring;
}

const whole = await played(100);
const TURNS = whole.answered.map((question, n) => [n, question] as const);

async function recordOf(ring: Ring) {
  const [stored, events] = await Promise.all([
    practice.store.calls.load(ring.call),
    practice.store.calls.events(ring.call),
  ]);
  if (!stored.ok || !events.ok || stored.value === null) throw new Error('The store is down');
  expect(events.value.map(({ seq }) => seq)).toEqual(events.value.map((_, at) => at + 1));
  expect(stored.value.seq).toBe(events.value.length);
  return { head: stored.value.head, types: events.value.map(({ type }) => type) };
}

test('the call that is taken apart here has enough turns', () => {
  expect(TURNS.length).toBeGreaterThan(12);
  expect(whole.result).toBe('arrange-review/next-working-day');
});

describe.each(TURNS)('at turn %i (%s)', (turn) => {
  test('going back puts the question before it again, and the call ends as it would have', async () => {
    const ring = await played(turn);
    const done = await ring.tries({ kind: 'back' });
    expect(done.ok).toBe(turn > 0);
    await ring.answerAll(SAYS);
    expect(ring.result).toBe(whole.result);
    expect((await recordOf(ring)).types.includes('reopened')).toBe(turn > 0);
  });

  test('correcting every earlier answer to the same ends the same', async () => {
    const ring = await played(turn);
    for (const question of ring.answered) {
      const spec = ring.done.runner.compiled.flow.questions.find(({ id }) => id === question);
      if (spec?.kind === 'finding') {
        const value =
          SAYS[spec.findings[0] ?? ''] ?? ring.done.standing.context.held[spec.findings[0] ?? '']?.value;
        if (value !== undefined) await ring.answer(question, value, 'mis-keyed');
      }
    }
    await ring.answerAll(SAYS);
    expect(ring.result).toBe(whole.result);
  });

  test.each<TurnInput>([
    { kind: 'cut-off', how: 'hung-up' },
    { kind: 'cut-off', how: 'stopped' },
  ])('$how: the outcome of what was said stands, is recorded, and somebody rings back', async (input) => {
    const ring = await played(turn);
    const before = ring.rank;
    await ring.says(input);
    const { head, types } = await recordOf(ring);
    expect(ring.done.standing.at).toBe('outcome');
    expect(ring.rank).toBeGreaterThanOrEqual(before);
    expect(types).toEqual(expect.arrayContaining(['cut-off']));
    // A call in which nothing was said yet is rung back as well: its patient is known and within day 84.
    expect(rank(ring.outcome)).toBeGreaterThanOrEqual(
      rank({ outcome: 'arrange-review', within: 'same-day', emergency: false }),
    );
    expect(ring.done.standing.context.promises['call-back']).toBeDefined();
    expect(head.outcome).toMatch(/^(arrange-review|urgent-escalation)\//);
  });

  test('an answer after the caller hung up lowers nothing', async () => {
    const ring = await played(turn);
    await ring.says({ kind: 'cut-off', how: 'hung-up' });
    const before = ring.rank;
    const last = ring.answered.at(-1) ?? 'screen-breathing';
    await ring.tries({ kind: 'answer', question: last, value: 'no', correction: null });
    expect(ring.rank).toBeGreaterThanOrEqual(before);
    expect(ring.done.standing.at).not.toBe('asking');
  });
});
