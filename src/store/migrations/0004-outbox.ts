/** Migration 4: what is to be sent and when, and the numbers that text the practice. */
import { sql } from 'kysely';
import type { Kysely } from 'kysely';

export async function createOutbox(db: Kysely<unknown>): Promise<void> {
  await db.schema
    .createTable('outbox')
    .addColumn('id', 'text', (column) => column.primaryKey().notNull())
    .addColumn('call', 'text', (column) => column.notNull().references('calls.id'))
    .addColumn('promise', 'text')
    .addColumn('kind', 'text', (column) =>
      column.notNull().check(sql`kind in ('page', 'text', 'ring', 'notice')`),
    )
    .addColumn('who', 'text')
    .addColumn('template', 'text', (column) => column.notNull())
    .addColumn('sealed', 'text')
    .addColumn('due_at', 'bigint', (column) => column.notNull())
    .addColumn('state', 'text', (column) =>
      column
        .notNull()
        .check(sql`state in ('queued', 'sending', 'sent', 'delivered', 'failed', 'shown', 'withdrawn')`),
    )
    .addColumn('tries', 'integer', (column) => column.notNull())
    .addColumn('claimed_at', 'bigint')
    .addColumn('claimed_by', 'text')
    .addColumn('provider_id', 'text')
    .execute();
  // What waits or was left is few; what has ended is many and never looked through for it.
  await sql`create index outbox_due on outbox (due_at, id) where state in ('queued', 'sending')`.execute(db);
  await db.schema.createIndex('outbox_newest').on('outbox').columns(['due_at', 'id']).execute();
  await db.schema
    .createTable('text_numbers')
    .addColumn('token', 'text', (column) => column.primaryKey().notNull())
    .addColumn('call', 'text')
    .addColumn('begun_at', 'bigint')
    .addColumn('stopped_at', 'bigint')
    .execute();
}
