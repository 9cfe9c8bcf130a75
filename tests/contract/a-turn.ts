/** Turns of an invented call, as plain as a test can say them. */
import { newId } from '../../src/basics/ids.ts';
import type { CallId, FlowHash, OperationId, PatientId, PromiseId } from '../../src/basics/ids.ts';
import type { Json } from '../../src/basics/json.ts';
import type { Result } from '../../src/basics/result.ts';
import type { CallHead, NewEvent, PromiseWrite, TurnWrite } from '../../src/call/call-store.ts';
import type { Store } from '../../src/store/store.ts';

/** 2 March 2026, 09:00 UTC. */
export const START = 1_772_442_000_000;

export const HEARD = 'My left side is tight, it hurts, and my name is Ottilie Brackwater';

export function aHead(changes: Partial<CallHead> = {}): CallHead {
  return {
    channel: 'line',
    direction: 'patient-rang',
    startedAt: START,
    zone: 'Europe/London',
    patientId: null,
    operationId: null,
    flowHash: 'flow-1' as FlowHash,
    lexiconHash: 'lexicon-1',
    programVersion: '0.1.0',
    state: 'open',
    outcome: null,
    about: null,
    ...changes,
  };
}

export function anEvent(changes: Partial<NewEvent> = {}): NewEvent {
  return {
    type: 'heard',
    v: 1,
    at: START + 1_000,
    by: 'line',
    open: { finding: 'swelling', value: 'one-sided' },
    sealed: { words: HEARD },
    ...changes,
  };
}

export function aTurn(changes: Partial<TurnWrite> = {}): TurnWrite {
  return {
    call: newId<CallId>(),
    expectedSeq: 0,
    sealedRead: false,
    token: newId(),
    head: aHead(),
    events: [anEvent(), anEvent({ type: 'settled', sealed: null })],
    snapshot: { state: 'choosing', asked: ['swelling'] },
    reply: { say: 'swelling-tense' },
    promises: [],
    messages: [],
    ...changes,
  };
}

export function aPromise(changes: Partial<PromiseWrite> = {}): PromiseWrite {
  return {
    id: newId<PromiseId>(),
    kind: 'review',
    openedAt: START,
    dueAt: START + 3_600_000,
    owner: 'user:nurse-1',
    state: 'open',
    open: { outcome: 'arrange-review' },
    ...changes,
  };
}

export const aPatientId = () => newId<PatientId>();
export const anOperationId = () => newId<OperationId>();

/** The value of what must have gone well. */
export function valueOf<TValue, TFault>(result: Result<TValue, TFault>): TValue {
  if (!result.ok) throw new Error(`Expected a value and met ${String(result.fault)}.`);
  return result.value;
}

export async function kept(store: Store, turn: TurnWrite): Promise<number> {
  return valueOf(await store.calls.commit(turn)).seq;
}

/** A call of so many turns with two events each, and where it stands. */
export async function aKeptCall(
  store: Store,
  { turns = 1, head = aHead() }: { readonly turns?: number; readonly head?: CallHead } = {},
): Promise<{ readonly call: CallId; readonly seq: number }> {
  const call = newId<CallId>();
  let seq = 0;
  for (let turn = 0; turn < turns; turn += 1)
    seq = await kept(store, aTurn({ call, expectedSeq: seq, head }));
  return { call, seq };
}

export async function wordsOf(store: Store, call: CallId): Promise<readonly (Json | null)[]> {
  return valueOf(await store.calls.events(call)).map((event) => event.sealed);
}

/** Lands ten turns of one event each, starting over whenever somebody else was first. */
export async function landTen(store: Store, call: CallId, name: string): Promise<void> {
  for (let turn = 0; turn < 10;) {
    const expectedSeq = valueOf(await store.calls.load(call))?.seq ?? 0;
    const token = `${name}${String(turn)}`;
    const end = await store.calls.commit(
      aTurn({ call, expectedSeq, token, events: [anEvent({ open: token })] }),
    );
    if (end.ok) turn += 1;
    else if (end.fault !== 'stale') throw new Error(`Expected to be kept or stale and met ${end.fault}.`);
  }
}
