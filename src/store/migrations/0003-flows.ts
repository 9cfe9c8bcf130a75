/** Migration 3: compiled flows by the hash of their content. */
import type { Kysely } from 'kysely';
import { refuseChanges } from './append-only.ts';
import type { Dialect } from './append-only.ts';

export async function createFlows(db: Kysely<unknown>, dialect: Dialect): Promise<void> {
  await db.schema
    .createTable('flows')
    .addColumn('hash', 'text', (column) => column.primaryKey().notNull())
    .addColumn('content', 'text', (column) => column.notNull())
    .addColumn('kept_at', 'bigint', (column) => column.notNull())
    .execute();
  await refuseChanges(db, { table: 'flows', dialect });
}
