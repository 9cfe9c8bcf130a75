/** Migration 5: who looked at or changed what, when and from where; added to and never changed. */
import type { Kysely } from 'kysely';
import { refuseChanges } from './append-only.ts';
import type { Dialect } from './append-only.ts';

export async function createAuditTrail(db: Kysely<unknown>, dialect: Dialect): Promise<void> {
  await db.schema
    .createTable('audit_entries')
    .addColumn('id', 'text', (column) => column.primaryKey().notNull())
    .addColumn('at', 'bigint', (column) => column.notNull())
    .addColumn('who', 'text', (column) => column.notNull())
    .addColumn('role', 'text')
    .addColumn('what', 'text', (column) => column.notNull())
    .addColumn('about', 'text', (column) => column.notNull())
    .addColumn('from_address', 'text', (column) => column.notNull())
    .execute();
  await db.schema.createIndex('audit_entries_who').on('audit_entries').columns(['who', 'id']).execute();
  await refuseChanges(db, { table: 'audit_entries', dialect });
}
