/** Answers the asks about the audit trail from a table in memory. */
import { changed, compare, many } from './memory-answer.ts';
import type { Handlers } from './memory-answer.ts';
import type { MemoryTables } from './memory-tables.ts';
import type { AuditEntryRow } from './schema.ts';

export function auditHandlers({
  auditEntries,
}: MemoryTables): Handlers<'addAuditEntry' | 'auditEntries' | 'auditEntriesOn'> {
  const newest = (before: string, fits: (row: AuditEntryRow) => boolean): readonly AuditEntryRow[] =>
    auditEntries
      .all()
      .filter((row) => row.id < before && fits(row))
      .toSorted((a, b) => compare(b.id, a.id));
  return {
    addAuditEntry: (row) => changed(auditEntries.add(row)),
    auditEntries: ({ before, limit }) => many(newest(before, () => true).slice(0, limit)),
    auditEntriesOn: ({ before, limit, on, pattern }) => {
      const part = pattern.slice(1, -1);
      return many(newest(before, ({ who, about }) => who === on || about.includes(part)).slice(0, limit));
    },
  };
}
