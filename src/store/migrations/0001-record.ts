/** Migration 1: calls with their events, turns, snapshots and promises, the wrapped keys and the checkpoints. */
import { sql } from 'kysely';
import type { Kysely } from 'kysely';
import { refuseChanges } from './append-only.ts';
import type { Dialect } from './append-only.ts';

export async function createRecord(db: Kysely<unknown>, dialect: Dialect): Promise<void> {
  await createCalls(db);
  await createEvents(db);
  await createTurns(db);
  await createPromises(db);
  await createKeys(db);
  await createCheckpoints(db);
  await refuseChanges(db, { table: 'events', dialect });
  await refuseChanges(db, { table: 'checkpoints', dialect });
}

async function createCalls(db: Kysely<unknown>): Promise<void> {
  await db.schema
    .createTable('calls')
    .addColumn('id', 'text', (column) => column.primaryKey().notNull())
    .addColumn('seq', 'integer', (column) => column.notNull())
    .addColumn('hash', 'text', (column) => column.notNull())
    .addColumn('checked_seq', 'integer', (column) => column.notNull().defaultTo(0))
    .addColumn('channel', 'text', (column) => column.notNull())
    .addColumn('direction', 'text', (column) => column.notNull())
    .addColumn('started_at', 'bigint', (column) => column.notNull())
    .addColumn('zone', 'text', (column) => column.notNull())
    .addColumn('patient_id', 'text')
    .addColumn('operation_id', 'text')
    .addColumn('flow_hash', 'text', (column) => column.notNull())
    .addColumn('lexicon_hash', 'text', (column) => column.notNull())
    .addColumn('program_version', 'text', (column) => column.notNull())
    .addColumn('state', 'text', (column) => column.notNull().check(sql`state in ('open', 'closed')`))
    .addColumn('outcome', 'text')
    .addColumn('about', 'text')
    .execute();
  await db.schema.createIndex('calls_started').on('calls').columns(['started_at', 'id']).execute();
  await db.schema
    .createIndex('calls_about')
    .on('calls')
    .columns(['operation_id', 'started_at', 'id'])
    .execute();
  await sql`create index calls_moved on calls (id) where checked_seq < seq`.execute(db);
}

async function createEvents(db: Kysely<unknown>): Promise<void> {
  await db.schema
    .createTable('events')
    .addColumn('call', 'text', (column) => column.notNull().references('calls.id'))
    .addColumn('seq', 'integer', (column) => column.notNull().check(sql`seq > 0`))
    .addColumn('at', 'bigint', (column) => column.notNull())
    .addColumn('by', 'text', (column) => column.notNull())
    .addColumn('type', 'text', (column) => column.notNull())
    .addColumn('v', 'integer', (column) => column.notNull())
    .addColumn('open', 'text', (column) => column.notNull())
    .addColumn('sealed', 'text')
    .addColumn('prev', 'text', (column) => column.notNull())
    .addColumn('hash', 'text', (column) => column.notNull())
    .addPrimaryKeyConstraint('events_call_seq', ['call', 'seq'])
    .execute();
}

async function createTurns(db: Kysely<unknown>): Promise<void> {
  await db.schema
    .createTable('turns')
    .addColumn('call', 'text', (column) => column.notNull().references('calls.id'))
    .addColumn('token', 'text', (column) => column.notNull())
    .addColumn('seq', 'integer', (column) => column.notNull())
    .addColumn('reply', 'text', (column) => column.notNull())
    .addPrimaryKeyConstraint('turns_call_token', ['call', 'token'])
    .execute();
  await db.schema
    .createTable('snapshots')
    .addColumn('call', 'text', (column) => column.primaryKey().notNull().references('calls.id'))
    .addColumn('sealed', 'text', (column) => column.notNull())
    .execute();
}

async function createPromises(db: Kysely<unknown>): Promise<void> {
  await db.schema
    .createTable('promises')
    .addColumn('id', 'text', (column) => column.primaryKey().notNull())
    .addColumn('call', 'text', (column) => column.notNull().references('calls.id'))
    .addColumn('kind', 'text', (column) => column.notNull())
    .addColumn('opened_at', 'bigint', (column) => column.notNull())
    .addColumn('due_at', 'bigint')
    .addColumn('owner', 'text', (column) => column.notNull())
    .addColumn('state', 'text', (column) =>
      column.notNull().check(sql`state in ('open', 'done', 'withdrawn')`),
    )
    .addColumn('open', 'text', (column) => column.notNull())
    .execute();
  await db.schema.createIndex('promises_call').on('promises').columns(['call', 'opened_at', 'id']).execute();
  await db.schema.createIndex('promises_due').on('promises').columns(['state', 'due_at']).execute();
}

async function createKeys(db: Kysely<unknown>): Promise<void> {
  await db.schema
    .createTable('wrapped_keys')
    .addColumn('kind', 'text', (column) => column.notNull())
    .addColumn('id', 'text', (column) => column.notNull())
    .addColumn('wrapped_by', 'text')
    .addColumn('wrapped', 'text', (column) => column.notNull())
    .addPrimaryKeyConstraint('wrapped_keys_kind_id', ['kind', 'id'])
    .execute();
  await db.schema.createIndex('wrapped_keys_by').on('wrapped_keys').column('wrapped_by').execute();
}

async function createCheckpoints(db: Kysely<unknown>): Promise<void> {
  await db.schema
    .createTable('checkpoints')
    .addColumn('n', 'integer', (column) => column.primaryKey().notNull())
    .addColumn('at', 'bigint', (column) => column.notNull())
    .addColumn('heads', 'text', (column) => column.notNull())
    .addColumn('prev', 'text', (column) => column.notNull())
    .addColumn('hash', 'text', (column) => column.notNull())
    .execute();
}
