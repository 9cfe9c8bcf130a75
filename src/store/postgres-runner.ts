/** Runs plans on PostgreSQL: one transaction a write, and any lost connection is an outage, never an exception. */
import pg from 'pg';
import { failed, ok } from '../basics/result.ts';
import type { Result } from '../basics/result.ts';
import { runOver } from './plan.ts';
import type { Answer, Asked, Plan, Written } from './plan.ts';
import type { Runner } from './runner.ts';
import type { Statements } from './statements.ts';

const MOST_TRIES = 5;
const QUERY_MILLIS = 15_000;

const BEGIN_WRITE = 'begin; set local synchronous_commit = on';
const BEGIN_READ = 'begin isolation level repeatable read, read only';

export function postgresRunner(pool: pg.Pool, statements: Statements): Runner {
  return {
    read: (plan) => withClient(pool, (client) => runOver(plan(), answers(client, statements))),
    readTogether: (plan) => withClient(pool, (client) => readTogether(client, plan, statements)),
    write: (plan) => withClient(pool, (client) => writeAgain(client, plan, statements)),
    // Old row versions go with the server's own vacuum.
    scrub: () => Promise.resolve(),
    close: () => pool.end(),
  };
}

/** The database could not: no connection, shutting down, out of room. */
class Outage extends Error {}

/** Two transactions stood in each other's way and this one was undone; it may run again. */
class Clash extends Error {}

async function withClient<TValue>(
  pool: pg.Pool,
  use: (client: pg.PoolClient) => Promise<TValue>,
): Promise<Result<TValue, 'store-down'>> {
  const client = await pool.connect().catch(() => null);
  if (client === null) return failed('store-down');
  try {
    const value = await use(client);
    client.release();
    return ok(value);
  } catch (error) {
    // Closing the connection undoes what it had open, whatever state it is in.
    client.release(true);
    if (error instanceof Outage || error instanceof Clash) return failed('store-down');
    throw error;
  }
}

async function readTogether<TValue>(
  client: pg.PoolClient,
  plan: () => Plan<TValue>,
  statements: Statements,
): Promise<TValue> {
  await query(client, { text: BEGIN_READ });
  const value = await runOver(plan(), answers(client, statements));
  await query(client, { text: 'commit' });
  return value;
}

async function writeAgain<TValue>(
  client: pg.PoolClient,
  plan: () => Plan<Written<TValue>>,
  statements: Statements,
): Promise<TValue> {
  for (let tries = 1; ; tries += 1) {
    try {
      return await writeOnce(client, plan, statements);
    } catch (error) {
      if (!(error instanceof Clash) || tries === MOST_TRIES) throw error;
      await query(client, { text: 'rollback' });
    }
  }
}

async function writeOnce<TValue>(
  client: pg.PoolClient,
  plan: () => Plan<Written<TValue>>,
  statements: Statements,
): Promise<TValue> {
  await query(client, { text: BEGIN_WRITE });
  const written = await runOver(plan(), answers(client, statements));
  // When the connection is lost here, the turn may be kept although the answer is an outage: asked again with the
  // same token, it is found.
  await query(client, { text: written.keep ? 'commit' : 'rollback' });
  return written.value;
}

function answers(client: pg.PoolClient, statements: Statements): (asked: Asked) => Promise<Answer> {
  return async ({ name, values }) => {
    const statement = statements.get(name);
    if (statement === undefined) throw new Error(`There is no statement for ${name}.`);
    const { rows, rowCount } = await query(client, {
      name,
      text: statement.sql,
      values: statement.bind(values),
    });
    return { rows, changed: rowCount ?? 0 };
  };
}

async function query(client: pg.PoolClient, config: pg.QueryConfig): Promise<pg.QueryResult> {
  const timed: pg.QueryConfig & { readonly query_timeout: number } = {
    ...config,
    query_timeout: QUERY_MILLIS,
  };
  try {
    return await client.query(timed);
  } catch (error) {
    throw sorted(error);
  }
}

// By SQLSTATE (PostgreSQL documentation, appendix A): 40 undone by a conflict; 22 and 23 a value that we should not
// have sent; all else, and whatever comes without a code from the server, is an outage.
function sorted(error: unknown): unknown {
  const code = error instanceof pg.DatabaseError ? (error.code ?? '') : '';
  if (code.startsWith('40')) return new Clash('The transaction was undone by another.', { cause: error });
  if (code.startsWith('22') || code.startsWith('23')) return error;
  return new Outage('The database did not answer.', { cause: error });
}
