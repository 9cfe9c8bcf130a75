/** The audit trail over any runner. */
import type { AuditEntry, AuditQuery, AuditTrail } from '../people/audit-trail.ts';
import { change, rowsOf } from './plan.ts';
import type { Plan, Written } from './plan.ts';
import type { Runner } from './runner.ts';
import type { AuditEntryRow } from './schema.ts';

/** Later than every id: ids are hexadecimal. */
const AFTER_ALL = 'g';

export function auditTrail(runner: Runner): AuditTrail {
  return {
    add: (entry) => runner.write(() => addPlan(rowFrom(entry))),
    read: (query) => runner.read(() => readPlan(query)),
  };
}

function* addPlan(row: AuditEntryRow): Plan<Written<void>> {
  yield* change('addAuditEntry', row);
  return { keep: true, value: undefined };
}

function* readPlan({ on, before, limit }: AuditQuery): Plan<readonly AuditEntry[]> {
  const from = before ?? AFTER_ALL;
  const rows =
    on === null
      ? yield* rowsOf('auditEntries', { before: from, limit })
      : yield* rowsOf('auditEntriesOn', { before: from, limit, on, pattern: `%"${literal(on)}"%` });
  return rows.map(entryFrom);
}

/** What LIKE would read as any text does not occur in an id; a text that holds it finds nothing. */
function literal(on: string): string {
  return /[%_"\\]/.test(on) ? '\n' : on;
}

function rowFrom({ about, from, ...entry }: AuditEntry): AuditEntryRow {
  return { ...entry, about: JSON.stringify(about), from_address: from };
}

function entryFrom({ about, from_address: from, ...entry }: AuditEntryRow): AuditEntry {
  return { ...entry, about: JSON.parse(about) as readonly string[], from };
}
