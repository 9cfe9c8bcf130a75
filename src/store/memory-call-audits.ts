/** Answers the asks about call audits and the log from tables in memory. */
import { newestFirst } from './memory-calls.ts';
import { changed, compare, many, one } from './memory-answer.ts';
import type { Handlers } from './memory-answer.ts';
import type { MemoryTables } from './memory-tables.ts';

export function callAuditHandlers({
  audits,
  calls,
  events,
}: MemoryTables): Handlers<'addAudit' | 'auditsOf' | 'callsBetween' | 'firstByUser'> {
  return {
    addAudit: (row) => changed(audits.add(row)),
    auditsOf: ({ call }) => many(audits.inGroup(call).toSorted((a, b) => compare(a.id, b.id))),
    callsBetween: ({ since, until, limit }) => {
      const between = calls.all().filter((row) => row.started_at >= since && row.started_at < until);
      return many(between.toSorted(newestFirst).slice(0, limit));
    },
    firstByUser: ({ call }) => {
      const mine = events.inGroup(call).filter(({ by }) => by.startsWith('user:'));
      return one(mine.toSorted((a, b) => a.seq - b.seq)[0]);
    },
  };
}
