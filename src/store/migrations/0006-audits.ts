/** Migration 6: that somebody re-read a call, with a comment under the call's own key; added to and never changed. */
import type { Kysely } from 'kysely';
import { refuseChanges } from './append-only.ts';
import type { Dialect } from './append-only.ts';

export async function createAudits(db: Kysely<unknown>, dialect: Dialect): Promise<void> {
  await db.schema
    .createTable('audits')
    .addColumn('id', 'text', (column) => column.primaryKey().notNull())
    .addColumn('call', 'text', (column) => column.notNull().references('calls.id'))
    .addColumn('at', 'bigint', (column) => column.notNull())
    .addColumn('who', 'text', (column) => column.notNull())
    .addColumn('sealed', 'text', (column) => column.notNull())
    .execute();
  await db.schema.createIndex('audits_call').on('audits').columns(['call', 'id']).execute();
  await refuseChanges(db, { table: 'audits', dialect });
}
