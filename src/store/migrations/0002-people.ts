/** Migration 2: patients and operations, sealed, and the keyed tokens that find them. */
import type { Kysely } from 'kysely';

export async function createPeople(db: Kysely<unknown>): Promise<void> {
  await db.schema
    .createTable('patients')
    .addColumn('id', 'text', (column) => column.primaryKey().notNull())
    .addColumn('sealed', 'text', (column) => column.notNull())
    .execute();
  await db.schema
    .createTable('operations')
    .addColumn('id', 'text', (column) => column.primaryKey().notNull())
    .addColumn('patient_id', 'text', (column) => column.notNull())
    .addColumn('sealed', 'text', (column) => column.notNull())
    .execute();
  await db.schema.createIndex('operations_patient').on('operations').column('patient_id').execute();
  await db.schema
    .createTable('search_tokens')
    .addColumn('token', 'text', (column) => column.notNull())
    .addColumn('patient_id', 'text', (column) => column.notNull())
    .addPrimaryKeyConstraint('search_tokens_token_patient', ['token', 'patient_id'])
    .execute();
  await db.schema.createIndex('search_tokens_patient').on('search_tokens').column('patient_id').execute();
}
