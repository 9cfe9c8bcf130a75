/** Every turn happens once: repeated tokens, many at once, and calls that are closed. */
import { describe, expect, test } from 'vitest';
import { openMemory } from '../../src/store/memory.ts';
import { aPatient, anOperation } from '../contract/a-patient.ts';
import { aPractice, libraryWith } from '../support/a-practice.ts';
import { Ring } from '../support/a-ring.ts';

const practice = aPractice();

async function eventsOf(ring: Ring) {
  const events = await practice.store.calls.events(ring.call);
  if (!events.ok) throw new Error('The store is down');
  return events.value;
}

const answer = (value: string) =>
  ({ kind: 'answer', question: 'screen-breathing', value, correction: null }) as const;

describe('a repeated token', () => {
  test('gets the same reply and changes nothing', async () => {
    const ring = await practice.ring();
    const first = await ring.tries(answer('no'), 'token-1');
    const events = await eventsOf(ring);
    await ring.answer('screen-swelling-or-bleeding', 'no');
    const again = await ring.tries(answer('no'), 'token-1');
    if (!first.ok || !again.ok) throw new Error('A turn was refused');
    expect(again.value.reply).toEqual(first.value.reply);
    expect(again.value.repeated).toBe(true);
    expect((await eventsOf(ring)).slice(0, events.length)).toEqual(events);
  });

  test('with other content gets the reply of the first that came', async () => {
    const ring = await practice.ring();
    const first = await ring.tries(answer('no'), 'token-1');
    const other = await ring.tries(answer('yes'), 'token-1');
    if (!first.ok || !other.ok) throw new Error('A turn was refused');
    expect(other.value.reply).toEqual(first.value.reply);
    expect(ring.done.standing.context.held['breathless']?.value).toBe('no');
  });

  test('of a beginning begins one call', async () => {
    const start = { kind: 'start', channel: 'line', direction: 'patient-rang', callerNumber: null } as const;
    const ring = await practice.ring();
    const refused = await ring.tries(start);
    expect(refused).toMatchObject({ ok: false, fault: { code: 'not-now' } });
  });
});

describe('many turns at once', () => {
  test('twenty on one call all land, one after the other', async () => {
    const ring = await practice.ring();
    const notes = Array.from({ length: 20 }, (_, n) => `note ${String(n)}`);
    const done = await Promise.all(notes.map((text) => ring.tries({ kind: 'note', text })));
    expect(done.map(({ ok }) => ok)).toEqual(notes.map(() => true));
    const events = await eventsOf(ring);
    const kept = events.flatMap(({ type, sealed }) => (type === 'noted' ? [JSON.stringify(sealed)] : []));
    expect(kept.toSorted()).toEqual(notes.map((text) => JSON.stringify({ text })).toSorted());
    expect(events.map(({ seq }) => seq)).toEqual(events.map((_, at) => at + 1));
  });

  test('twenty with one token are one turn and twenty equal replies', async () => {
    const ring = await practice.ring();
    const done = await Promise.all(Array.from({ length: 20 }, () => ring.tries(answer('no'), 'token-1')));
    const replies = done.map((one) => (one.ok ? JSON.stringify(one.value.reply) : one.fault.code));
    expect(new Set(replies).size).toBe(1);
    expect((await eventsOf(ring)).filter(({ type }) => type === 'answered')).toHaveLength(1);
  });

  test('a danger among twenty others is never lost', async () => {
    const ring = await practice.ring();
    const mild = Array.from({ length: 19 }, () => ring.tries(answer('no')));
    const danger = ring.tries({
      kind: 'volunteer',
      findings: { fit: 'yes' },
      words: 'He shook all over',
      correction: null,
    });
    await Promise.all([...mild, danger]);
    await ring.says({ kind: 'note', text: 'Afterwards.' });
    expect(ring.result).toBe('urgent-escalation/now/emergency');
  });
});

describe('a call that is closed', () => {
  async function closed(): Promise<Ring> {
    const ring = await practice.ring();
    await ring.answerAll();
    await ring.says({ kind: 'tell' });
    return ring.says({ kind: 'close', understood: true, agreed: 'Rings again.' });
  }

  test.each([
    answer('yes'),
    { kind: 'volunteer', findings: { fit: 'yes' }, words: null, correction: null },
    { kind: 'reopen', question: 'swelling' },
    { kind: 'back' },
    { kind: 'opening', text: 'One more thing' },
    { kind: 'tell' },
    { kind: 'cut-off', how: 'hung-up' },
    { kind: 'accept', clinician: 'Dr Ferreday' },
    {
      kind: 'operation',
      operation: {
        procedures: ['tummy-tuck'],
        times: [{ day: 1, hours: null }],
        clinic: 'open',
        earlierCalls: [],
        known: {},
        facts: {},
      },
    },
  ] satisfies readonly Parameters<Ring['tries']>[0][])('refuses $kind and nothing changes', async (input) => {
    const ring = await closed();
    const events = await eventsOf(ring);
    expect(await ring.tries(input)).toMatchObject({ ok: false, fault: { code: 'not-now' } });
    expect(await eventsOf(ring)).toEqual(events);
    const stored = await practice.store.calls.load(ring.call);
    expect(stored).toMatchObject({ ok: true, value: { head: { state: 'closed' } } });
  });

  test('refuses an identification, too', async () => {
    const ring = await closed();
    const patient = aPatient();
    const operation = anOperation(patient.id);
    await practice.store.people.savePatient(patient);
    await practice.store.people.saveOperation(operation);
    const input = {
      kind: 'identify',
      patientId: patient.id,
      operationId: operation.id,
      statedDates: [],
    } as const;
    expect(await ring.tries({ ...input, statedDates: [] })).toMatchObject({ ok: false });
    expect((await eventsOf(ring)).at(-1)?.type).toBe('closed');
  });
});

describe('what is not accepted', () => {
  test.each([
    ['a temperature that cannot be', { temperature: 380 }, 'out-of-range'],
    ['a value that the finding does not have', { swelling: 'huge' }, 'bad-request'],
    ['a finding that no script has', { elbow: 'yes' }, 'not-found'],
  ])('%s is refused with what is accepted, and nothing is kept', async (_what, findings, code) => {
    const ring = await practice.ring();
    const events = await eventsOf(ring);
    const refused = await ring.tries({ kind: 'volunteer', findings, words: null, correction: null });
    expect(refused).toMatchObject({ ok: false, fault: { code } });
    expect(await eventsOf(ring)).toEqual(events);
  });

  test('going back before anything was answered', async () => {
    const ring = await practice.ring();
    expect(await ring.tries({ kind: 'back' })).toMatchObject({ ok: false, fault: { code: 'not-now' } });
  });
});

test('a store that is down keeps nothing and says so', async () => {
  const down = aPractice({ store: openMemory({ practiceKey: Buffer.alloc(32, 7) }) });
  const ring = await down.ring();
  await down.store.close();
  expect(await ring.tries(answer('no'))).toMatchObject({ ok: false, fault: { code: 'store-down' } });
});

test('a call of two procedures goes on with its own script after a restart', async () => {
  const store = openMemory({ practiceKey: Buffer.alloc(32, 7) });
  const before = aPractice({ store });
  const patient = aPatient();
  const operation = anOperation(patient.id, { procedures: ['tummy-tuck', 'breast-lift'] });
  await store.people.savePatient(patient);
  await store.people.saveOperation(operation);
  const ring = await before.ring({ operated: null });
  await ring.identify(patient.id, operation.id);
  await ring.answerAll({}, 'swelling');
  const after = new Ring(aPractice({ store, library: libraryWith([]) }).deps, ring.call);
  await after.answer('swelling', 'even');
  expect(after.done.reply.flow).toBe(ring.done.reply.flow);
  expect(after.question).toBe('swelling-within-hours');
});
