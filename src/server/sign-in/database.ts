/** The sign-in's own database: a file beside the record, or a schema of its own on PostgreSQL; never the record's connection. */
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { Kysely, PostgresDialect, SqliteDialect, sql } from 'kysely';
import pg from 'pg';
import type { Millis } from '../../basics/clock.ts';
import type { Config } from '../config.ts';

/** A failed try to sign in; `key` is a keyed hash of a name, an address or a device. */
export interface FailureRow {
  readonly id: string;
  readonly key: string;
  readonly at: Millis;
}

/** A one-time code that was used; it is not taken again while it would still be valid. */
export interface UsedCodeRow {
  readonly id: string;
  readonly at: Millis;
}

/** A link that somebody was given; only the hash of its secret part is kept. */
export interface LinkRow {
  readonly hash: string;
  readonly kind: 'set-up' | 'invite' | 'escalation';
  readonly staff: string;
  /** The call that an escalation's link opens; null for the others. */
  readonly call: string | null;
  readonly expires_at: Millis;
  /** Wrong PINs so far. */
  readonly failures: number;
  /** The hash of the cookie of the one browser that it was opened in. */
  readonly session: string | null;
}

export interface PinRow {
  readonly staff: string;
  readonly hash: string;
}

/** What is read of the library's own table of accounts. */
export interface UserRow {
  readonly email: string;
  readonly workEmail: string | null;
}

export interface SignInTables {
  readonly user: UserRow;
  readonly sign_in_failures: FailureRow;
  readonly used_codes: UsedCodeRow;
  readonly links: LinkRow;
  readonly pins: PinRow;
}

export interface SignInDatabase {
  readonly db: Kysely<SignInTables>;
  readonly type: 'sqlite' | 'postgres';
  readonly close: () => Promise<void>;
}

const FILE = 'sign-in.db';
const SCHEMA = 'sign_in';
const BUSY_MILLIS = 500;
const CONNECT_MILLIS = 3_000;

export async function openSignInDatabase(
  config: Pick<Config, 'dataDir' | 'databaseUrl'>,
): Promise<SignInDatabase> {
  return config.databaseUrl === null
    ? onSqlite(join(config.dataDir, FILE))
    : await onPostgres(config.databaseUrl);
}

function onSqlite(file: string): SignInDatabase {
  const database = new Database(file, { timeout: BUSY_MILLIS });
  database.pragma('journal_mode = WAL');
  const db = new Kysely<SignInTables>({ dialect: new SqliteDialect({ database }) });
  return { db, type: 'sqlite', close: () => db.destroy() };
}

async function onPostgres(url: string): Promise<SignInDatabase> {
  const types = new pg.TypeOverrides();
  types.setTypeParser(pg.types.builtins.INT8, Number);
  const pool = new pg.Pool({
    connectionString: url,
    connectionTimeoutMillis: CONNECT_MILLIS,
    options: `-c search_path=${SCHEMA}`,
    max: 4,
    types,
  });
  // Without a listener a lost idle connection would end the process; whoever uses it next gets the failure.
  pool.on('error', () => undefined);
  const db = new Kysely<SignInTables>({ dialect: new PostgresDialect({ pool }) });
  try {
    await sql`create schema if not exists ${sql.ref(SCHEMA)}`.execute(db);
  } catch (error) {
    await db.destroy();
    throw error;
  }
  return { db, type: 'postgres', close: () => db.destroy() };
}

/** The tables that are the desk's own; those of accounts and sessions the library makes itself. */
export async function makeOwnTables({ db }: SignInDatabase): Promise<void> {
  await db.schema
    .createTable('sign_in_failures')
    .ifNotExists()
    .addColumn('id', 'text', (column) => column.primaryKey())
    .addColumn('key', 'text', (column) => column.notNull())
    .addColumn('at', 'bigint', (column) => column.notNull())
    .execute();
  await db.schema
    .createIndex('sign_in_failures_key')
    .ifNotExists()
    .on('sign_in_failures')
    .columns(['key', 'at'])
    .execute();
  await db.schema
    .createTable('used_codes')
    .ifNotExists()
    .addColumn('id', 'text', (column) => column.primaryKey())
    .addColumn('at', 'bigint', (column) => column.notNull())
    .execute();
  await db.schema
    .createTable('links')
    .ifNotExists()
    .addColumn('hash', 'text', (column) => column.primaryKey())
    .addColumn('kind', 'text', (column) => column.notNull())
    .addColumn('staff', 'text', (column) => column.notNull())
    .addColumn('call', 'text')
    .addColumn('expires_at', 'bigint', (column) => column.notNull())
    .addColumn('failures', 'integer', (column) => column.notNull())
    .addColumn('session', 'text')
    .execute();
  await db.schema
    .createTable('pins')
    .ifNotExists()
    .addColumn('staff', 'text', (column) => column.primaryKey())
    .addColumn('hash', 'text', (column) => column.notNull())
    .execute();
}
