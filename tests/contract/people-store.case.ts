/** What every store of patients and operations keeps to, whatever is behind it. */
import { describe, expect, it } from 'vitest';
import type { PatientQuery } from '../../src/people/people-store.ts';
import type { Patient } from '../../src/people/patient.ts';
import type { Store } from '../../src/store/store.ts';
import { anOperation, aPatient } from './a-patient.ts';
import {
  aHead,
  aKeptCall,
  anOperationId,
  aPatientId,
  aTurn,
  HEARD,
  kept,
  valueOf,
  wordsOf,
} from './a-turn.ts';
import { opened } from './store-under-test.ts';
import type { OpenStore } from './store-under-test.ts';

export function peopleStoreFacts(open: OpenStore): void {
  describe('a patient', () => patientFacts(open));
  describe('a search', () => searchFacts(open));
  describe('the key of a call', () => keyFacts(open));
  describe('an erased patient', () => erasureFacts(open));
  describe('an erasure in the middle of a turn', () => lateFacts(open));
}

function patientFacts(open: OpenStore): void {
  it('comes back as saved, with what is not recorded still not recorded, operations newest first', async () => {
    const { store } = await opened(open);
    const patient = aPatient();
    const [older, newer] = [anOperation(patient.id, { on: '2025-11-30' }), anOperation(patient.id)];
    valueOf(await store.people.saveOperation(older));
    valueOf(await store.people.savePatient(patient));
    valueOf(await store.people.saveOperation(newer));
    expect(valueOf(await store.people.patient(patient.id))).toEqual({ patient, operations: [newer, older] });
    expect(valueOf(await store.people.operation(older.id))).toEqual(older);
    expect(valueOf(await store.people.countPatients())).toBe(1);
  });

  it('and an operation that nobody knows are null', async () => {
    const { store } = await opened(open);
    expect(await store.people.patient(aPatientId())).toEqual({ ok: true, value: null });
    expect(await store.people.operation(anOperationId())).toEqual({ ok: true, value: null });
    expect(await store.people.countPatients()).toEqual({ ok: true, value: 0 });
  });

  it('saved again is replaced, and is found by the new words only', async () => {
    const { store } = await opened(open);
    const before = aPatient();
    const after = aPatient({ id: before.id, surname: 'Quillfeather', telephones: ['+447700900199'] });
    await saveAll(store, [before, after]);
    expect(valueOf(await store.people.patient(before.id))?.patient).toEqual(after);
    expect(valueOf(await store.people.countPatients())).toBe(1);
    expect(await found(store, { by: 'telephone', telephone: '+447700900101' })).toEqual([]);
    expect(await found(store, { by: 'surname', surname: 'brack' })).toEqual([]);
    expect(await found(store, { by: 'surname', surname: 'quill' })).toEqual([after]);
  });

  it('stands nowhere in the database in plain words', async () => {
    const { store, back } = await opened(open);
    const patient = aPatient();
    await saveAll(store, [patient]);
    valueOf(await store.people.saveOperation(anOperation(patient.id)));
    const stored = await back.everything();
    expect(stored).toContain(patient.id);
    for (const word of [
      'rackwater',
      'Ottilie',
      '1984',
      '7700900101',
      'penicillin',
      'breast-lift',
      'Ferreday',
    ]) {
      expect(stored.toLowerCase()).not.toContain(word.toLowerCase());
    }
  });
}

function searchFacts(open: OpenStore): void {
  const one = aPatient();
  const other = aPatient({ surname: 'Ó Brácken-Łoś', telephones: ['+441632960111'], born: '1990-12-31' });

  it.each<[string, PatientQuery, readonly Patient[]]>([
    ['the first telephone number', { by: 'telephone', telephone: '+447700900101' }, [one]],
    ['the second telephone number', { by: 'telephone', telephone: '+442079460102' }, [one]],
    ['the birth date', { by: 'born', born: '1990-12-31' }, [other]],
    ['one letter of the surname', { by: 'surname', surname: 'b' }, [one]],
    ['the whole surname', { by: 'surname', surname: 'brackwater' }, [one]],
    ['a surname whose marks were folded away', { by: 'surname', surname: 'obrackenlo' }, [other]],
    ['more letters than the surname has', { by: 'surname', surname: 'brackwaters' }, []],
    ['the middle of a surname', { by: 'surname', surname: 'water' }, []],
    ['no letters at all', { by: 'surname', surname: '' }, []],
    ['the beginning of a telephone number', { by: 'telephone', telephone: '+4477009001' }, []],
    ['a birth date given as a telephone number', { by: 'telephone', telephone: '1990-12-31' }, []],
  ])('by %s finds exactly whom it belongs to', async (_words, query, patients) => {
    const { store } = await opened(open);
    await saveAll(store, [one, other]);
    expect(await found(store, query)).toEqual(patients);
  });

  it('gives no more than asked for, by surname, each with the operations', async () => {
    const { store } = await opened(open);
    const [c, a, b] = ['Wrenfield', 'Wadlow', 'Wexmoor'].map((surname) => aPatient({ surname }));
    if (a === undefined || b === undefined || c === undefined) throw new Error('Three patients were made.');
    await saveAll(store, [c, a, b]);
    const operation = anOperation(a.id);
    valueOf(await store.people.saveOperation(operation));
    const matches = valueOf(await store.people.find({ by: 'surname', surname: 'w' }, 2));
    expect(matches).toEqual([
      { patient: a, operations: [operation] },
      { patient: b, operations: [] },
    ]);
  });
}

function keyFacts(open: OpenStore): void {
  it('is the patient’s once the patient is learnt, for the words before and after', async () => {
    const { store } = await opened(open);
    const patient = aPatient();
    await saveAll(store, [patient]);
    const { call, seq } = await aKeptCall(store);
    const head = aHead({ patientId: patient.id });
    await kept(store, aTurn({ call, expectedSeq: seq, head, snapshot: 'known' }));
    expect(await wordsOf(store, call)).toEqual([{ words: HEARD }, null, { words: HEARD }, null]);
    expect(valueOf(await store.calls.load(call))?.snapshot).toBe('known');
    valueOf(await store.people.erasePatient(patient.id));
    expect(await wordsOf(store, call)).toEqual([null, null, null, null]);
  });

  it('follows a corrected patient: only the right one takes the words along', async () => {
    const { store } = await opened(open);
    const [wrong, right] = [aPatient(), aPatient({ surname: 'Wexmoor' })];
    await saveAll(store, [wrong, right]);
    const { call, seq } = await aKeptCall(store, { head: aHead({ patientId: wrong.id }) });
    await kept(store, aTurn({ call, expectedSeq: seq, head: aHead({ patientId: right.id }) }));
    valueOf(await store.people.erasePatient(wrong.id));
    expect(await wordsOf(store, call)).toContainEqual({ words: HEARD });
    valueOf(await store.people.erasePatient(right.id));
    expect(await wordsOf(store, call)).not.toContainEqual({ words: HEARD });
  });

  it('goes with a patient whom only calls ever named', async () => {
    const { store } = await opened(open);
    const patientId = aPatientId();
    const { call } = await aKeptCall(store, { head: aHead({ patientId }) });
    expect(await wordsOf(store, call)).toContainEqual({ words: HEARD });
    valueOf(await store.people.erasePatient(patientId));
    expect(await wordsOf(store, call)).not.toContainEqual({ words: HEARD });
  });
}

function erasureFacts(open: OpenStore): void {
  it('is found by nothing, and neither are the operations', async () => {
    const { store } = await opened(open);
    const { patient, operation } = await anErased(store);
    expect(await store.people.patient(patient.id)).toEqual({ ok: true, value: null });
    expect(await store.people.operation(operation.id)).toEqual({ ok: true, value: null });
    expect(await store.people.countPatients()).toEqual({ ok: true, value: 1 });
    const [telephone = ''] = patient.telephones;
    expect(await found(store, { by: 'telephone', telephone })).toEqual([]);
    expect(await found(store, { by: 'born', born: patient.born })).toEqual([]);
    expect(await found(store, { by: 'surname', surname: 'b' })).toEqual([]);
  });

  it('leaves calls with their open facts, marked as erased, and a chain that holds', async () => {
    const { store } = await opened(open);
    const { call, token } = await anErased(store);
    const events = valueOf(await store.calls.events(call));
    expect(events).toMatchObject([
      { open: { finding: 'swelling' }, sealed: null, erased: true },
      { open: { finding: 'swelling' }, sealed: null, erased: false },
    ]);
    expect(valueOf(await store.calls.load(call))).toMatchObject({ seq: 2, snapshot: null });
    expect(await store.calls.replyTo(call, token)).toEqual({ ok: true, value: null });
    expect(await store.chain.firstBrokenLink(() => undefined)).toEqual({ ok: true, value: null });
  });

  it('takes nobody else’s words along', async () => {
    const { store } = await opened(open);
    const { otherCall, unknownCall, other } = await anErased(store);
    expect(await wordsOf(store, otherCall)).toEqual([{ words: HEARD }, null]);
    expect(await wordsOf(store, unknownCall)).toEqual([{ words: HEARD }, null]);
    expect(valueOf(await store.people.patient(other.id))?.patient).toEqual(other);
  });

  it('is named by nothing but the call that it rang about, and can be erased again', async () => {
    const { store, back } = await opened(open);
    const { patient } = await anErased(store);
    expect((await back.everything()).split(patient.id)).toHaveLength(2);
    expect(await store.people.erasePatient(patient.id)).toEqual({ ok: true, value: undefined });
  });

  it('does not stop a call that is still going on: what was said before stays unreadable, the rest is kept', async () => {
    const { store } = await opened(open);
    const { call, patient } = await anErased(store);
    const seq = await kept(store, aTurn({ call, expectedSeq: 2, head: aHead({ patientId: patient.id }) }));
    expect(seq).toBe(4);
    expect(await wordsOf(store, call)).toEqual([null, null, { words: HEARD }, null]);
    expect(valueOf(await store.calls.load(call))?.snapshot).not.toBeNull();
    expect(await store.chain.firstBrokenLink(() => undefined)).toEqual({ ok: true, value: null });
  });
}

/** A turn that was computed from what the patient said, and comes after the erasure. */
function lateFacts(open: OpenStore): void {
  it('makes a turn stale that was computed from the words, and the words stay gone', async () => {
    const { store } = await opened(open);
    const { call, patient } = await anErased(store);
    const head = aHead({ patientId: patient.id });
    const late = aTurn({ call, expectedSeq: 2, head, sealedRead: true, snapshot: { opening: HEARD } });
    expect(await store.calls.commit(late)).toEqual({ ok: false, fault: 'stale' });
    expect(valueOf(await store.calls.load(call))).toMatchObject({ seq: 2, snapshot: null });
    expect(await store.calls.replyTo(call, late.token)).toEqual({ ok: true, value: null });
  });
}

/** An erased patient with an operation and a call, beside another patient's call and one about nobody. */
async function anErased(store: Store) {
  const [patient, other] = [
    aPatient(),
    aPatient({ surname: 'Wexmoor', born: '1971-01-01', telephones: ['+447700900155'] }),
  ];
  await saveAll(store, [patient, other]);
  const operation = anOperation(patient.id);
  valueOf(await store.people.saveOperation(operation));
  const turn = aTurn({ head: aHead({ patientId: patient.id }) });
  await kept(store, turn);
  const { call: otherCall } = await aKeptCall(store, { head: aHead({ patientId: other.id }) });
  const { call: unknownCall } = await aKeptCall(store);
  valueOf(await store.people.erasePatient(patient.id));
  return { patient, other, operation, call: turn.call, token: turn.token, otherCall, unknownCall };
}

async function saveAll(store: Store, patients: readonly Patient[]): Promise<void> {
  for (const patient of patients) valueOf(await store.people.savePatient(patient));
}

async function found(store: Store, query: PatientQuery): Promise<readonly Patient[]> {
  return valueOf(await store.people.find(query, 10)).map(({ patient }) => patient);
}
