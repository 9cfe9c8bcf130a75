/** Answers the asks about flows from a table in memory. */
import { changed, one } from './memory-answer.ts';
import type { Handlers } from './memory-answer.ts';
import type { MemoryTables } from './memory-tables.ts';

export function flowHandlers({ flows }: MemoryTables): Handlers<'flow' | 'addFlow'> {
  return {
    flow: ({ hash }) => one(flows.get(hash)),
    addFlow: (row) => changed(flows.add(row)),
  };
}
