/** What a process remembers of a call never answers for the store: another process, an erasure or an edit counts at once. */
import { describe, expect, test } from 'vitest';
import { newId } from '../../src/basics/ids.ts';
import type { TurnInput } from '../../src/call/input.ts';
import { makeLoadedCalls } from '../../src/call/loaded-calls.ts';
import { aPatient, anOperation } from '../contract/a-patient.ts';
import { aPractice } from '../support/a-practice.ts';
import { Ring, type Says } from '../support/a-ring.ts';

const SAYS: Says = { 'calf-pain': 'no', swelling: 'one-sided', 'low-mood': 'yes' };

/** Two programs on one store, each with a memory of its own. */
function twoPrograms() {
  const one = aPractice();
  return { one, other: aPractice({ store: one.store, clock: one.clock }) };
}

/** A call that the first program has in mind, and the same call through the second. */
async function aSharedCall(turns = 3) {
  const { one, other } = twoPrograms();
  const ring = await one.ring();
  for (let n = 0; n < turns; n += 1) await ring.answerNext(SAYS);
  expect(one.deps.loaded.get(ring.call)?.seq).toBe(ring.done.reply.seq);
  return { one, ring, there: new Ring(other.deps, ring.call) };
}

async function typesOf({ one, ring }: Pick<Awaited<ReturnType<typeof aSharedCall>>, 'one' | 'ring'>) {
  const events = await one.store.calls.events(ring.call);
  if (!events.ok) throw new Error('The store is down');
  return events.value.map(({ type, open }) => ({ type, open }));
}

const note = (text: string): TurnInput => ({ kind: 'note', text });

describe('two programs that take turns on one call', () => {
  test('record the same decisions as one alone', async () => {
    const { one, other } = twoPrograms();
    const alone = await one.ring();
    await alone.answerAll(SAYS);
    const shared = await one.ring();
    const [here, there] = [shared, new Ring(other.deps, shared.call)];
    await there.says(note('Taken over.'));
    for (let n = 0; there.question !== null && n < 100; n += 1) {
      await there.answerNext(SAYS);
      await here.says(note('Read along.'));
    }
    const decided = async (ring: Ring) =>
      (await typesOf({ one, ring })).filter(({ type }) => type !== 'noted' && type !== 'promised');
    expect(await decided(shared)).toEqual(await decided(alone));
    expect(there.result).toBe(alone.result);
  });

  test('a danger that the other heard counts in the next turn here', async () => {
    const { ring, there } = await aSharedCall();
    await there.volunteers({ fit: 'yes' });
    await ring.says(note('Still with her.'));
    expect(ring.result).toBe('urgent-escalation/now/emergency');
  });

  test('a token that the other answered gets the other’s reply, and nothing is written', async () => {
    const { one, ring, there } = await aSharedCall();
    const first = await there.tries(
      { kind: 'volunteer', findings: { fit: 'yes' }, words: null, correction: null },
      'token-1',
    );
    const before = await typesOf({ one, ring });
    const again = await ring.tries(note('Another text.'), 'token-1');
    if (!first.ok || !again.ok) throw new Error('A turn was refused');
    expect(again.value).toMatchObject({ repeated: true, reply: first.value.reply });
    expect(await typesOf({ one, ring })).toEqual(before);
  });

  test('what the call takes only since the other’s turns is taken here', async () => {
    const { ring, there } = await aSharedCall();
    await there.says(note('Taken over.'));
    await there.answerAll(SAYS);
    await there.says({ kind: 'tell' });
    const closed = await ring.tries({ kind: 'close', understood: true, agreed: 'Rings again.' });
    expect(closed).toMatchObject({ ok: true, value: { standing: { at: 'closed' } } });
  });

  test('a call that the other closed takes nothing here', async () => {
    const { one, ring, there } = await aSharedCall();
    await there.says(note('Taken over.'));
    await there.answerAll(SAYS);
    await there.says({ kind: 'tell' });
    await there.says({ kind: 'close', understood: true, agreed: 'Rings again.' });
    const before = await typesOf({ one, ring });
    expect(
      await ring.tries({ kind: 'volunteer', findings: { fit: 'yes' }, words: null, correction: null }),
    ).toMatchObject({
      ok: false,
      fault: { code: 'not-now' },
    });
    expect(await typesOf({ one, ring })).toEqual(before);
  });
});

describe('the people of a call', () => {
  async function identified() {
    const { one, other } = twoPrograms();
    const patient = aPatient();
    const operation = anOperation(patient.id, { procedures: ['breast-lift'] });
    await one.store.people.savePatient(patient);
    await one.store.people.saveOperation(operation);
    const ring = await one.ring({ operated: null });
    await ring.identify(patient.id, operation.id);
    await ring.says({ kind: 'opening', text: 'It is swollen on one side' });
    return { one, other, ring, patient };
  }

  test('a name that was put right during the call stands in the handover', async () => {
    const { one, other, ring, patient } = await identified();
    await other.store.people.savePatient({ ...patient, surname: 'Brackwater-Rowe' });
    await ring.volunteers({ fit: 'yes' });
    const events = await one.store.calls.events(ring.call);
    const handover = events.ok ? events.value.findLast(({ type }) => type === 'handover-written') : undefined;
    expect(JSON.stringify(handover?.sealed)).toContain('Brackwater-Rowe');
  });

  test('once the patient is erased nothing that was said is answered from memory', async () => {
    const { other, ring, patient } = await identified();
    expect(ring.done.standing.context.opening).toBe('It is swollen on one side');
    await other.store.people.erasePatient(patient.id);
    await ring.says(note('Goes on.'));
    expect(ring.done.standing.context.opening).toBe('');
    expect(ring.done.loaded.patient).toBeNull();
  });

  test('what is said after an erasure is sealed under a key that can be read', async () => {
    const { one, other, ring, patient } = await identified();
    await other.store.people.erasePatient(patient.id);
    await ring.says(note('Goes on.'));
    const events = await one.store.calls.events(ring.call);
    const noted = events.ok ? events.value.findLast(({ type }) => type === 'noted') : undefined;
    expect(noted).toMatchObject({ sealed: { text: 'Goes on.' }, erased: false });
  });
});

describe('the memory', () => {
  async function someLeft(calls: number) {
    const practice = aPractice();
    const rings = await Promise.all(Array.from({ length: calls }, () => practice.ring()));
    return rings.map((ring) => {
      const left = practice.deps.loaded.get(ring.call);
      if (left === null) throw new Error('The call was not left in memory');
      return { call: ring.call, left };
    });
  }

  test('holds so many calls, and forgets the one that was used longest ago', async () => {
    const [a, b, c] = await someLeft(3);
    if (a === undefined || b === undefined || c === undefined) throw new Error('Three calls are needed');
    const memory = makeLoadedCalls(2);
    for (const { call, left } of [a, b, a, c]) memory.leave(call, left);
    expect([a, b, c].map(({ call }) => memory.get(call) !== null)).toEqual([true, false, true]);
  });

  test('keeps no closed call, no earlier point of a call, and nobody who was erased', async () => {
    const [one] = await someLeft(1);
    if (one === undefined || one.left.head === null) throw new Error('A call is needed');
    const { call, left } = one;
    const memory = makeLoadedCalls(2);
    const later = { ...left, seq: left.seq + 1 };
    memory.leave(call, later);
    memory.leave(call, left);
    expect(memory.get(call)).toBe(later);
    memory.leave(call, { ...later, seq: later.seq + 1, head: { ...one.left.head, state: 'closed' } });
    expect(memory.get(call)).toBeNull();
    const patientId = newId<NonNullable<typeof one.left.head.patientId>>();
    memory.leave(call, { ...left, head: { ...one.left.head, patientId } });
    memory.forgetPatient(patientId);
    expect(memory.get(call)).toBeNull();
  });
});
