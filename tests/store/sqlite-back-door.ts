/** An SQLite file in a stranger's hands: a connection of its own, without triggers and without foreign keys. */
import Database from 'better-sqlite3';
import { join } from 'node:path';
import { openSqlite } from '../../src/store/sqlite.ts';
import { KEYS } from '../contract/store-under-test.ts';
import type { OpenedStore } from '../contract/store-under-test.ts';
import { tempDir } from '../support/temp-dir.ts';
import { sqlBackDoor } from './sql-back-door.ts';

export async function openedSqlite(): Promise<OpenedStore> {
  const file = join(tempDir(), 'calls.sqlite');
  return {
    store: await openSqlite({ file, keys: KEYS }),
    back: sqlBackDoor(async (sql, values) => onFile(file, sql, values ?? [])),
  };
}

function onFile(file: string, sql: string, values: readonly unknown[]): readonly unknown[] {
  const db = new Database(file);
  try {
    db.pragma('foreign_keys = OFF');
    for (const name of ['events', 'checkpoints', 'flows']) {
      for (const change of ['update', 'delete']) db.exec(`drop trigger if exists ${name}_refuse_${change}`);
    }
    const statement = db.prepare(sql);
    if (statement.reader) return statement.all(values);
    statement.run(values);
    return [];
  } finally {
    db.close();
  }
}
