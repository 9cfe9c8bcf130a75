/** Answers the asks about wrapped keys and the record chain from tables in memory. */
import { changed, compare, many, one, put } from './memory-answer.ts';
import type { Handlers } from './memory-answer.ts';
import { pairKey } from './memory-tables.ts';
import type { MemoryTables } from './memory-tables.ts';

type KeyHandlers = Handlers<'key' | 'addKey' | 'putKey' | 'keysWrappedBy' | 'dropKey'>;
type ChainHandlers = Handlers<
  | 'markMoved'
  | 'lastCheckpoint'
  | 'addCheckpoint'
  | 'callsAfter'
  | 'strayEvent'
  | 'checkpointsAfter'
  | 'hashAt'
>;

export function keyHandlers({ keys }: MemoryTables): KeyHandlers {
  return {
    key: ({ kind, id }) => one(keys.get(pairKey(kind, id))),
    addKey: (row) => changed(keys.add(row)),
    putKey: (row) => put(keys, row),
    keysWrappedBy: ({ patient }) => many(keys.inGroup(patient)),
    dropKey: ({ kind, id }) => changed(keys.drop(pairKey(kind, id))),
  };
}

export function chainHandlers({ calls, events, checkpoints }: MemoryTables): ChainHandlers {
  return {
    markMoved: () => {
      const moved = calls.all().filter((call) => call.checked_seq < call.seq);
      for (const call of moved) calls.put({ ...call, checked_seq: call.seq });
      return many(moved);
    },
    lastCheckpoint: () =>
      one(
        checkpoints
          .all()
          .toSorted((a, b) => a.n - b.n)
          .at(-1),
      ),
    addCheckpoint: (row) => changed(checkpoints.add(row)),
    callsAfter: ({ after, limit }) => {
      const later = calls.all().filter((call) => call.id > after);
      return many(later.toSorted((a, b) => compare(a.id, b.id)).slice(0, limit));
    },
    strayEvent: () => one(events.all().find((event) => calls.get(event.call) === undefined)),
    checkpointsAfter: ({ after, limit }) => {
      const later = checkpoints.all().filter((checkpoint) => checkpoint.n > after);
      return many(later.toSorted((a, b) => a.n - b.n).slice(0, limit));
    },
    hashAt: ({ call, seq }) => one(events.get(pairKey(call, seq))),
  };
}
