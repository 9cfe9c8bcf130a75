/** What a spoken or keyed reply does: what it answers, what it volunteers, and what is read back first. */
import { describe, expect, test } from 'vitest';
import type { HeardInput } from '../../src/call/heard.ts';
import { rebuild } from '../../src/call/rebuild.ts';
import { turnDeps } from '../../src/server/compose.ts';
import { openMemory } from '../../src/store/memory.ts';
import { aRing, type Ring } from '../support/a-ring.ts';
import { fixedClock } from '../support/fixed-clock.ts';
import { realContent } from '../support/real-flows.ts';

/** Tuesday 3 March 2026, 10:00 in London. */
const NOW = Date.parse('2026-03-03T10:00:00Z');
const store = openMemory({ practiceKey: Buffer.alloc(32, 7) });
const deps = turnDeps(realContent(), store, fixedClock(NOW));

const ringing = (): Promise<Ring> =>
  aRing(deps, { by: 'line', operated: { procedures: ['tummy-tuck'], day: 4 } });

function said(ring: Ring, text: string, changes: Partial<HeardInput> = {}): HeardInput {
  const question = ring.question;
  const base = {
    question,
    text,
    confidence: 0.9,
    how: 'speech',
    aside: null,
    confirms: null,
    correction: null,
  };
  return { kind: 'heard', ...base, ...changes } as HeardInput;
}

async function events(ring: Ring, type: string) {
  const all = await store.calls.events(ring.call);
  if (!all.ok) throw new Error('The store is down');
  return all.value.filter((one) => one.type === type);
}

describe('a spoken reply', () => {
  test('that denies a whole group settles it', async () => {
    const ring = await ringing();
    await ring.says(said(ring, 'no none of those'));
    expect(ring.done.standing.context.held['chest-pain']?.value).toBe('no');
    expect(ring.question).toBe('screen-colour-swelling-or-bleeding');
  });

  test('that is heard badly is read back when it reassures', async () => {
    const ring = await ringing();
    await ring.says(said(ring, 'no none of those', { confidence: 0.3 }));
    expect(ring.done.standing.context.held['chest-pain']).toBeUndefined();
    expect(ring.question).toBe('screen-breath-or-chest');
    expect((await events(ring, 'heard')).map(({ open }) => open)).toMatchObject([
      { taken: 'read-back', value: 'no' },
    ]);
    await ring.says(said(ring, 'yes', { confirms: { value: 'no', right: true } }));
    expect(ring.done.standing.context.held['chest-pain']?.value).toBe('no');
  });

  test('stands at once when it worries, however badly it is heard', async () => {
    const ring = await ringing();
    await ring.says(said(ring, 'yes I have got chest pain', { confidence: 0 }));
    expect(ring.result).toBe('urgent-escalation/now/emergency');
  });

  test('with a danger in it interrupts whatever was asked', async () => {
    const ring = await ringing();
    await ring.answerAll({}, 'temperature');
    await ring.says(said(ring, 'hang on I cannot breathe'));
    expect(ring.result).toBe('urgent-escalation/now/emergency');
  });

  test('that nobody understands changes nothing and is kept', async () => {
    const ring = await ringing();
    await ring.says(said(ring, 'the kettle is on'));
    expect(ring.question).toBe('screen-breath-or-chest');
    const [heard] = await events(ring, 'heard');
    expect(heard).toMatchObject({ open: { taken: 'not-understood' }, sealed: { text: 'the kettle is on' } });
  });

  test('that comes when its question is over counts only where it worries', async () => {
    const ring = await ringing();
    await ring.answer('screen-breath-or-chest', 'no');
    await ring.says(said(ring, 'no', { question: 'screen-breath-or-chest' }));
    expect(ring.question).toBe('screen-colour-swelling-or-bleeding');
    await ring.says(said(ring, 'yes, chest pain', { question: 'screen-breath-or-chest' }));
    expect(ring.outcome.emergency).toBe(true);
  });
});

describe('keys', () => {
  test.each([
    ['1', 'yes'],
    ['2', 'no'],
    ['3', 'unsure'],
  ])('%s is %s', async (keys, value) => {
    const ring = await ringing();
    await ring.says(said(ring, keys, { how: 'keys', confidence: 1 }));
    expect((await events(ring, 'answered')).map(({ open }) => open)).toMatchObject([{ value }]);
  });

  test('beyond the choices are no answer', async () => {
    const ring = await ringing();
    await ring.says(said(ring, '6', { how: 'keys', confidence: 1 }));
    expect(ring.question).toBe('screen-breath-or-chest');
  });

  test('385 is a temperature of 38.5, and 36 is 36', async () => {
    for (const [keys, celsius] of [
      ['385', 38.5],
      ['36', 36],
      ['1013', 38.5],
    ] as const) {
      const ring = await ringing();
      await ring.answerAll({}, 'temperature');
      await ring.says(said(ring, keys, { how: 'keys', confidence: 1 }));
      expect(ring.done.standing.context.held['temperature']?.value, keys).toBe(celsius);
    }
  });
});

test('a call that was heard is rebuilt from its events as it stood', async () => {
  const ring = await ringing();
  for (const text of [
    'no none of those',
    'no',
    'no none',
    'nope none',
    'it is sore but ok',
    'a bit of swelling',
  ]) {
    await ring.says(said(ring, text));
  }
  const again = await rebuild(deps, ring.call, ring.done.runner.compiled);
  if (!again.ok) throw new Error(again.fault.message);
  expect(again.value.snapshot.value).toEqual({ open: `ask-${String(ring.question)}` });
  expect(again.value.snapshot.context).toEqual(ring.done.standing.context);
});
