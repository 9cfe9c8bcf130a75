/** The statements behind every ask about the audit trail. */
import type { Kysely } from 'kysely';
import { AUDIT_ENTRY } from './columns.ts';
import type { Tables } from './schema.ts';
import { slot, slots } from './statement.ts';
import type { Queries } from './statement.ts';

export function auditQueries(
  db: Kysely<Tables>,
): Queries<'addAuditEntry' | 'auditEntries' | 'auditEntriesOn'> {
  const newest = db
    .selectFrom('audit_entries')
    .select(AUDIT_ENTRY)
    .where('id', '<', slot('before'))
    .orderBy('id', 'desc')
    .limit(slot('limit'));
  return {
    addAuditEntry: db.insertInto('audit_entries').values(slots(AUDIT_ENTRY)),
    auditEntries: newest,
    auditEntriesOn: newest.where((where) =>
      where.or([where('who', '=', slot('on')), where('about', 'like', slot('pattern'))]),
    ),
  };
}
