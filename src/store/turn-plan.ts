/** The one write of a call: all of a turn, or nothing because the call moved on or the token has its reply. */
import type { TurnWrite } from '../call/call-store.ts';
import { turnRows } from './call-rows.ts';
import type { TurnRows } from './call-rows.ts';
import { changeOutbox } from './outbox-plans.ts';
import type { KnownHead } from './head-cache.ts';
import { callKeyFrom, keepCallKey } from './key-plans.ts';
import { change, rowOf } from './plan.ts';
import type { Plan, Written } from './plan.ts';
import { newKey } from './sealing.ts';
import type { WorkingKeys } from './sealing.ts';
import type { LoadedRow, MovedRow } from './asks.ts';
import type { CallRow } from './schema.ts';

export type TurnEnd =
  { readonly kind: 'kept'; readonly head: KnownHead } | { readonly kind: 'stale' | 'seen' };

interface Known {
  readonly head: KnownHead | undefined;
  readonly keys: WorkingKeys;
}

export function* turnPlan(turn: TurnWrite, known: Known): Plan<Written<TurnEnd>> {
  if (turn.expectedSeq === 0) return yield* firstTurn(turn, known.keys);
  const before = known.head?.seq === turn.expectedSeq ? known.head : yield* readHead(turn, known.keys);
  const isErased = turn.sealedRead && before?.key === null;
  if (before?.seq !== turn.expectedSeq || isErased) return yield* refused(turn);
  return yield* laterTurn(turn, before, known.keys);
}

function* firstTurn(turn: TurnWrite, keys: WorkingKeys): Plan<Written<TurnEnd>> {
  // Without one, the next turn would expect 0 as well and the call could never go on.
  if (turn.events.length === 0) throw new Error('A call begins with at least one event.');
  const key = newKey();
  const rows = turnRows(turn, { seq: 0, hash: '', key });
  if ((yield* change('addCall', rows.call)) === 0) return yield* refused(turn);
  if (!(yield* addRows(rows))) return undone('seen');
  return yield* kept(rows, { key, keys, former: null });
}

function* laterTurn(turn: TurnWrite, before: KnownHead, keys: WorkingKeys): Plan<Written<TurnEnd>> {
  const key = before.key ?? newKey();
  const rows = turnRows(turn, { seq: before.seq, hash: before.hash, key });
  const stands = { expected: turn.expectedSeq, wrapped: before.wrapped ?? '' };
  const moved = yield* change('moveCall', { ...movedRow(rows.call), ...stands });
  if (moved === 0) return yield* refused(turn);
  const { id, patient_id, operation_id } = rows.call;
  if (before.patientId !== patient_id || before.operationId !== operation_id) {
    yield* change('nameCall', { id, patient_id, operation_id });
  }
  if (!(yield* addRows(rows))) return undone('seen');
  return yield* kept(rows, { key, keys, former: before.key === null ? null : before });
}

function movedRow(row: CallRow): MovedRow {
  const { id, seq, hash, flow_hash, lexicon_hash, program_version, state, outcome, about } = row;
  return { id, seq, hash, flow_hash, lexicon_hash, program_version, state, outcome, about };
}

function* addRows(rows: TurnRows): Plan<boolean> {
  for (const event of rows.events) yield* change('addEvent', event);
  if ((yield* change('addTurn', rows.turn)) === 0) return false;
  yield* change('putSnapshot', rows.snapshot);
  for (const promise of rows.promises) yield* change('putPromise', promise);
  for (const write of rows.outbox) yield* changeOutbox(write);
  return true;
}

interface CallKey {
  readonly key: Buffer;
  readonly keys: WorkingKeys;
  /** How the key was wrapped before the turn; null when it is new. */
  readonly former: KnownHead | null;
}

function* kept(rows: TurnRows, { key, keys, former }: CallKey): Plan<Written<TurnEnd>> {
  const { id, seq, hash, patient_id: patientId, operation_id: operationId } = rows.call;
  const stands = former !== null && former.wrappedBy === patientId;
  const wrapped = stands ? former.wrapped : yield* keepCallKey({ id, key, patientId }, keys);
  const head = { seq, hash, key, wrapped, wrappedBy: patientId, patientId, operationId };
  return { keep: true, value: { kind: 'kept', head } };
}

function* refused(turn: TurnWrite): Plan<Written<TurnEnd>> {
  const seen = yield* rowOf('turn', { call: turn.call, token: turn.token });
  return undone(seen === null ? 'stale' : 'seen');
}

function undone(kind: 'stale' | 'seen'): Written<TurnEnd> {
  return { keep: false, value: { kind } };
}

function* readHead(turn: TurnWrite, keys: WorkingKeys): Plan<KnownHead | undefined> {
  const row = yield* rowOf('call', { id: turn.call });
  return row === null ? undefined : knownHead(row, callKeyFrom(row, keys));
}

export function knownHead(row: LoadedRow, key: Buffer | null): KnownHead {
  const { seq, hash, wrapped, wrapped_by: wrappedBy, patient_id: patientId, operation_id: operationId } = row;
  return { seq, hash, key, wrapped, wrappedBy, patientId, operationId };
}
