/** The store of calls over any runner: what a turn reads first and its one write. */
import type { CallId } from '../basics/ids.ts';
import type { Json } from '../basics/json.ts';
import { failed, ok } from '../basics/result.ts';
import type { Result } from '../basics/result.ts';
import type {
  CallStore,
  Committed,
  LoadedCall,
  LoadedHead,
  StoredEvent,
  StoredPromise,
  TurnWrite,
} from '../call/call-store.ts';
import { eventFrom, headFrom, promiseFrom, replyFrom, snapshotFrom } from './call-rows.ts';
import type { LoadedRow } from './asks.ts';
import type { HeadCache } from './head-cache.ts';
import { callKeyFrom } from './key-plans.ts';
import { rowOf, rowsOf } from './plan.ts';
import type { Plan } from './plan.ts';
import type { Runner } from './runner.ts';
import type { CallRow, PromiseRow } from './schema.ts';
import type { WorkingKeys } from './sealing.ts';
import { knownHead, turnPlan } from './turn-plan.ts';

export interface CallParts {
  readonly runner: Runner;
  readonly keys: WorkingKeys;
  readonly heads: HeadCache;
}

export function callStore(parts: CallParts): CallStore {
  const { runner } = parts;
  return {
    commit: (turn) => commit(turn, parts),
    load: (call) => runner.read(() => loadPlan(call, parts)),
    replyTo: (call, token) => runner.read(() => replyPlan(call, token, parts)),
    events: (call) => runner.read(() => eventsPlan(call, parts)),
    eventsOf: (call, type) => runner.read(() => eventsOfPlan(call, type, parts)),
    callsAbout: (operation, since) =>
      runner.read(() => headsPlan(rowsOf('callsAbout', { operation, since }))),
    recent: (limit) => runner.read(() => headsPlan(rowsOf('recentCalls', { limit }))),
    promisesOf: (call) => runner.read(() => promisesPlan(rowsOf('promisesOf', { call }))),
    openPromises: () => runner.read(() => promisesPlan(rowsOf('openPromises', {}))),
  };
}

async function commit(
  turn: TurnWrite,
  { runner, keys, heads }: CallParts,
): Promise<Result<Committed, 'stale' | 'seen' | 'store-down'>> {
  const written = await runner.write(() => turnPlan(turn, { head: heads.get(turn.call), keys }));
  if (!written.ok) return written;
  if (written.value.kind !== 'kept') {
    // What is known of it may be why: it is read anew.
    heads.forget(turn.call);
    return failed(written.value.kind);
  }
  heads.put(turn.call, written.value.head);
  return ok({ seq: written.value.head.seq });
}

function* loadPlan(call: CallId, parts: CallParts): Plan<LoadedCall | null> {
  const row = yield* rowOf('call', { id: call });
  if (row === null) return null;
  const key = keyOf(row, parts);
  const snapshot =
    row.snapshot === null ? null : snapshotFrom({ call, seq: row.seq, sealed: row.snapshot }, key);
  return { call, head: headFrom(row), seq: row.seq, snapshot };
}

// The kept key counts only while the row still holds the same wrap: a destroyed key is gone here too.
export function keyOf(row: LoadedRow, { keys, heads }: CallParts): Buffer | null {
  const known = heads.get(row.id);
  const wrapperStands = row.wrapped_by === null || row.wrapper !== null;
  const stands = known !== undefined && known.wrapped === row.wrapped && wrapperStands;
  const key = stands ? known.key : callKeyFrom(row, keys);
  heads.put(row.id, knownHead(row, key));
  return key;
}

function* replyPlan(call: CallId, token: string, parts: CallParts): Plan<Json | null> {
  const turn = yield* rowOf('turn', { call, token });
  if (turn === null) return null;
  const row = yield* rowOf('call', { id: call });
  return row === null ? null : replyFrom(turn, keyOf(row, parts));
}

function* eventsPlan(call: CallId, parts: CallParts): Plan<readonly StoredEvent[]> {
  const row = yield* rowOf('call', { id: call });
  if (row === null) return [];
  const key = keyOf(row, parts);
  const events = yield* rowsOf('events', { call });
  return events.map((event) => eventFrom(event, key));
}

// Mostly there are none, and then the call's key is not needed.
function* eventsOfPlan(call: CallId, type: string, parts: CallParts): Plan<readonly StoredEvent[]> {
  const events = yield* rowsOf('eventsOf', { call, type });
  const row = events.length === 0 ? null : yield* rowOf('call', { id: call });
  if (row === null) return [];
  const key = keyOf(row, parts);
  return events.map((event) => eventFrom(event, key));
}

function* headsPlan(rows: Plan<readonly CallRow[]>): Plan<readonly LoadedHead[]> {
  return (yield* rows).map((row) => ({ call: row.id, head: headFrom(row) }));
}

function* promisesPlan(rows: Plan<readonly PromiseRow[]>): Plan<readonly StoredPromise[]> {
  return (yield* rows).map(promiseFrom);
}
