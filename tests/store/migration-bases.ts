/** Empty databases of both kinds, before any migration. */
import Database from 'better-sqlite3';
import { Kysely, PostgresDialect, SqliteDialect } from 'kysely';
import { join } from 'node:path';
import pg from 'pg';
import type { Tables } from '../../src/store/schema.ts';
import type { MigrationBase } from '../contract/migrations.case.ts';
import { tempDir } from '../support/temp-dir.ts';

export function sqliteBase(): MigrationBase {
  const database = new Database(join(tempDir(), 'calls.sqlite'));
  return { db: new Kysely<Tables>({ dialect: new SqliteDialect({ database }) }), dialect: 'sqlite' };
}

export function postgresBase(url: string): MigrationBase {
  const types = new pg.TypeOverrides();
  types.setTypeParser(pg.types.builtins.INT8, Number);
  const pool = new pg.Pool({ connectionString: url, types });
  return { db: new Kysely<Tables>({ dialect: new PostgresDialect({ pool }) }), dialect: 'postgres' };
}
