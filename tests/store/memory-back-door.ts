/** The tables in memory in a stranger's hands. */
import { openMemoryOn } from '../../src/store/memory.ts';
import { memoryTables, pairKey } from '../../src/store/memory-tables.ts';
import type { MemoryTables } from '../../src/store/memory-tables.ts';
import { KEYS } from '../contract/store-under-test.ts';
import type { BackDoor, OpenedStore } from '../contract/store-under-test.ts';

export function openedMemory(): OpenedStore {
  const tables = memoryTables();
  return { store: openMemoryOn(tables, KEYS), back: backDoor(tables) };
}

function backDoor(tables: MemoryTables): BackDoor {
  const { calls, events, checkpoints, flows } = tables;
  return {
    events: async (call) => events.inGroup(call).toSorted((a, b) => a.seq - b.seq),
    putEvent: async (row) => events.put(row),
    dropEvent: async (call, seq) => void events.drop(pairKey(call, seq)),
    dropCallRow: async (call) => void calls.drop(call),
    setEnd: async (call, seq, hash) => {
      const row = calls.get(call);
      if (row !== undefined) calls.put({ ...row, seq, hash });
    },
    checkpoints: async () => checkpoints.all(),
    putCheckpoint: async (row) => checkpoints.put(row),
    dropCheckpoint: async (n) => void checkpoints.drop(String(n)),
    putFlow: async (row) => flows.put(row),
    everything: async () =>
      JSON.stringify(Object.values(tables).map((table) => ('all' in table ? table.all() : []))),
  };
}
