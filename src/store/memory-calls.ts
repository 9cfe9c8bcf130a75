/** Answers the asks about calls from tables in memory. */
import type { LoadedRow } from './asks.ts';
import { changed, compare, many, one, put } from './memory-answer.ts';
import type { Handlers } from './memory-answer.ts';
import { pairKey } from './memory-tables.ts';
import type { MemoryTables, StoredCallRow } from './memory-tables.ts';
import type { CallRow, EventRow, PromiseRow } from './schema.ts';

type TurnHandlers = Handlers<
  | 'call'
  | 'addCall'
  | 'moveCall'
  | 'nameCall'
  | 'addEvent'
  | 'addTurn'
  | 'turn'
  | 'putSnapshot'
  | 'putPromise'
  | 'events'
  | 'eventsOf'
>;
type ListHandlers = Handlers<'callsAbout' | 'recentCalls' | 'promisesOf' | 'openPromises'>;

export function turnHandlers(tables: MemoryTables): TurnHandlers {
  const { calls, events, turns, snapshots, promises, keys } = tables;
  return {
    call: ({ id }) => one(loaded(calls.get(id), tables)),
    addCall: (row) => changed(calls.add({ ...row, checked_seq: 0 })),
    moveCall: ({ expected, wrapped, ...row }) => {
      const before = calls.get(row.id);
      if (before?.seq !== expected) return changed(0);
      if ((keys.get(pairKey('call', row.id))?.wrapped ?? '') !== wrapped) return changed(0);
      return put(calls, { ...before, ...row });
    },
    nameCall: ({ id, ...row }) => {
      const before = calls.get(id);
      return before === undefined ? changed(0) : put(calls, { ...before, ...row });
    },
    addEvent: (row) => {
      if (!events.add(row)) throw new Error('The call has an event with this number.');
      return changed(1);
    },
    addTurn: (row) => changed(turns.add(row)),
    turn: ({ call, token }) => one(turns.get(pairKey(call, token))),
    putSnapshot: (row) => put(snapshots, row),
    putPromise: (row) => put(promises, row),
    events: ({ call }) => many(events.inGroup(call).toSorted(bySeq)),
    eventsOf: ({ call, type }) =>
      many(
        events
          .inGroup(call)
          .filter((event) => event.type === type)
          .toSorted(bySeq),
      ),
  };
}

function loaded(row: StoredCallRow | undefined, tables: MemoryTables): LoadedRow | undefined {
  if (row === undefined) return undefined;
  const key = tables.keys.get(pairKey('call', row.id));
  const patient = key?.wrapped_by ?? null;
  const wrapper = patient === null ? undefined : tables.keys.get(pairKey('patient', patient));
  return {
    ...row,
    snapshot: tables.snapshots.get(row.id)?.sealed ?? null,
    wrapped_by: patient,
    wrapped: key?.wrapped ?? null,
    wrapper: wrapper?.wrapped ?? null,
  };
}

export function listHandlers({ calls, promises }: MemoryTables): ListHandlers {
  return {
    callsAbout: ({ operation, since }) => {
      const about = calls.inGroup(operation).filter((call) => call.started_at >= since);
      return many(about.toSorted(newestFirst));
    },
    recentCalls: ({ limit }) => many(calls.all().toSorted(newestFirst).slice(0, limit)),
    promisesOf: ({ call }) => many(promises.inGroup(call).toSorted(oldestFirst)),
    openPromises: () => {
      const open = promises.all().filter((promise) => promise.state === 'open');
      return many(open.toSorted(earliestDueFirst));
    },
  };
}

function bySeq(a: EventRow, b: EventRow): number {
  return a.seq - b.seq;
}

export function newestFirst(a: CallRow, b: CallRow): number {
  return b.started_at - a.started_at || compare(b.id, a.id);
}

function oldestFirst(a: PromiseRow, b: PromiseRow): number {
  return a.opened_at - b.opened_at || compare(a.id, b.id);
}

function earliestDueFirst(a: PromiseRow, b: PromiseRow): number {
  return compare(a.due_at ?? Infinity, b.due_at ?? Infinity) || oldestFirst(a, b);
}
