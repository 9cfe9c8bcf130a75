/** The triggers that make a table append-only, in the words of each database. */
import { sql } from 'kysely';
import type { Kysely } from 'kysely';

export type Dialect = 'sqlite' | 'postgres';

export interface AppendOnly {
  readonly table: 'events' | 'checkpoints' | 'flows' | 'audit_entries' | 'audits';
  readonly dialect: Dialect;
}

export async function refuseChanges(db: Kysely<unknown>, { table, dialect }: AppendOnly): Promise<void> {
  switch (dialect) {
    case 'sqlite':
      return await refuseOnSqlite(db, table);
    case 'postgres':
      return await refuseOnPostgres(db, table);
  }
}

async function refuseOnSqlite(db: Kysely<unknown>, table: string): Promise<void> {
  for (const change of ['update', 'delete']) {
    await sql`create trigger ${sql.ref(`${table}_refuse_${change}`)} before ${sql.raw(change)} on ${sql.table(table)}
      begin select raise(abort, 'This table is append-only.'); end`.execute(db);
  }
}

async function refuseOnPostgres(db: Kysely<unknown>, table: string): Promise<void> {
  await sql`create or replace function refuse_change() returns trigger language plpgsql as $body$
    begin raise exception 'This table is append-only.' using errcode = 'restrict_violation'; end $body$`.execute(
    db,
  );
  await sql`create trigger ${sql.ref(`${table}_refuse_change`)} before update or delete on ${sql.table(table)}
    for each row execute function refuse_change()`.execute(db);
  await sql`create trigger ${sql.ref(`${table}_refuse_truncate`)} before truncate on ${sql.table(table)}
    for each statement execute function refuse_change()`.execute(db);
}
