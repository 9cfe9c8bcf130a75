/** Opens the store on an SQLite file: the settings that make a commit durable, the tables, the key. */
import Database from 'better-sqlite3';
import { Kysely, SqliteDialect } from 'kysely';
import { migrate } from './migrations/migrate.ts';
import { requirePracticeKey } from './opening.ts';
import type { Tables } from './schema.ts';
import { workingKeys } from './sealing.ts';
import type { StoreKeys } from './sealing.ts';
import { sqliteRunner } from './sqlite-runner.ts';
import { compileStatements } from './statements.ts';
import { storeOver } from './store.ts';
import type { Store } from './store.ts';

// A wait for another process blocks every caller here, so it is short.
const BUSY_MILLIS = 1_000;

export interface SqlitePlace {
  readonly file: string;
  readonly keys: StoreKeys;
}

/** Rejects when the file cannot be opened or was written under another key. */
export async function openSqlite({ file, keys }: SqlitePlace): Promise<Store> {
  return await openSqliteOn(new Database(file, { timeout: BUSY_MILLIS }), keys);
}

/** The store owns the connection from here on; nothing else may write through it. */
export async function openSqliteOn(db: Database.Database, keys: StoreKeys): Promise<Store> {
  try {
    return await storeOn(db, keys);
  } catch (error) {
    db.close();
    throw error;
  }
}

async function storeOn(db: Database.Database, keys: StoreKeys): Promise<Store> {
  const working = workingKeys(keys);
  db.pragma('journal_mode = WAL');
  // An existing WAL file opens at NORMAL, which may lose the last commits at a power cut.
  db.pragma('synchronous = FULL');
  db.pragma('foreign_keys = ON');
  // Without it, INSERT OR REPLACE would slip past the append-only triggers.
  db.pragma('recursive_triggers = ON');
  // What a refused write of a group is undone from stays in memory, not in a temporary file.
  db.pragma('temp_store = MEMORY');
  // What a refused write of a group is undone from stays in memory, not in a temporary file.
  db.pragma('temp_store = MEMORY');
  // Destroyed keys are overwritten, not only unlinked.
  db.pragma('secure_delete = ON');
  const kysely = new Kysely<Tables>({ dialect: new SqliteDialect({ database: db }) });
  await migrate(kysely, 'sqlite');
  const runner = sqliteRunner(db, compileStatements(kysely));
  await requirePracticeKey(runner, working);
  return storeOver(runner, working);
}
