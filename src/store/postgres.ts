/** Opens the store on a PostgreSQL database that any number of server processes share. */
import { Kysely, PostgresDialect } from 'kysely';
import pg from 'pg';
import { migrate } from './migrations/migrate.ts';
import { requirePracticeKey } from './opening.ts';
import { postgresRunner } from './postgres-runner.ts';
import type { Tables } from './schema.ts';
import { workingKeys } from './sealing.ts';
import type { StoreKeys } from './sealing.ts';
import { compileStatements } from './statements.ts';
import { storeOver } from './store.ts';
import type { Store } from './store.ts';

const CONNECT_MILLIS = 5_000;

export interface PostgresPlace {
  readonly url: string;
  readonly keys: StoreKeys;
}

/** Rejects when the database cannot be reached or was written under another key. */
export async function openPostgres({ url, keys }: PostgresPlace): Promise<Store> {
  const working = workingKeys(keys);
  const pool = poolOn(url);
  try {
    const kysely = new Kysely<Tables>({ dialect: new PostgresDialect({ pool }) });
    await migrate(kysely, 'postgres');
    const runner = postgresRunner(pool, compileStatements(kysely));
    await requirePracticeKey(runner, working);
    return storeOver(runner, working);
  } catch (error) {
    await pool.end();
    throw error;
  }
}

function poolOn(url: string): pg.Pool {
  const pool = new pg.Pool({
    connectionString: url,
    connectionTimeoutMillis: CONNECT_MILLIS,
    keepAlive: true,
    types: integersAsNumbers(),
  });
  // Without listeners a lost connection, idle or in use, would end the process; whoever uses it gets the failure.
  pool.on('error', ignoreLost);
  pool.on('connect', (client) => client.on('error', ignoreLost));
  return pool;
}

function ignoreLost(): void {
  // The pool drops the connection by itself.
}

// Times and counts come as 64-bit integers, which the driver would hand over as text.
function integersAsNumbers(): pg.CustomTypesConfig {
  const types = new pg.TypeOverrides();
  types.setTypeParser(pg.types.builtins.INT8, Number);
  return types;
}
