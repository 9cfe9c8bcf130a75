/** The command that walks the record chain, run as its own process on a real data folder. */
import { execFile } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { expect, test } from 'vitest';
import { openConfiguredStore } from '../../src/server/open-store.ts';
import { aPatient, anOperation } from '../contract/a-patient.ts';
import { aPractice } from '../support/a-practice.ts';
import { projectFolder } from '../support/project-files.ts';
import { tempDir } from '../support/temp-dir.ts';

interface Ended {
  readonly exit: number | string | null;
  readonly out: string;
  readonly error: string;
}

function verifyLog(environment: Readonly<Record<string, string>>): Promise<Ended> {
  const { DATABASE_URL: _none, ...inherited } = process.env;
  const options = { cwd: projectFolder, env: { ...inherited, ...environment } };
  return new Promise((resolve) => {
    execFile(
      process.execPath,
      ['--import', 'tsx', 'src/terminal/verify-log.ts'],
      options,
      (failure, out, error) => {
        resolve({ exit: failure === null ? 0 : (failure.code ?? null), out, error });
      },
    );
  });
}

/** A data folder with two calls, one of them about a patient who was erased, and a checkpoint after them. */
async function aDataFolder() {
  const dataDir = tempDir();
  const opened = await openConfiguredStore({ dataDir, databaseUrl: null });
  if (!opened.ok) throw new Error(opened.fault.message);
  const store = opened.value;
  const practice = aPractice({ store });
  const patient = aPatient();
  const operation = anOperation(patient.id);
  await store.people.savePatient(patient);
  await store.people.saveOperation(operation);
  const first = await practice.ring({ operated: null });
  await first.identify(patient.id, operation.id);
  await first.says({ kind: 'note', text: 'Her sister is with her.' });
  const second = await practice.ring();
  await store.people.erasePatient(patient.id);
  await store.chain.checkpoint(practice.clock.now());
  await store.close();
  return { dataDir, second: second.call };
}

/** Somebody who holds the file itself and has taken its guards away. */
function withFile(dataDir: string, change: (db: Database.Database) => void): void {
  const file = readdirSync(dataDir).find((name) => name.endsWith('.sqlite'));
  if (file === undefined) throw new Error('There is no database in the data folder');
  const db = new Database(join(dataDir, file));
  for (const { name } of db
    .prepare<[], { name: string }>("select name from sqlite_master where type = 'trigger'")
    .all()) {
    db.exec(`drop trigger "${name}"`);
  }
  change(db);
  db.close();
}

test('a whole record holds, also where a patient was erased', async () => {
  const { dataDir } = await aDataFolder();
  expect(await verifyLog({ DATA_DIR: dataDir })).toEqual({
    exit: 0,
    out: 'The record holds: 2 calls and every checkpoint.\n',
    error: '',
  });
});

test('an event that was changed is named with its call, and the command fails', async () => {
  const { dataDir, second } = await aDataFolder();
  withFile(dataDir, (db) => {
    const changed = db
      .prepare("update events set open = replace(open, 'breathing', 'nothing') where call = ? and seq = 3")
      .run(second);
    expect(changed.changes).toBe(1);
  });
  const ended = await verifyLog({ DATA_DIR: dataDir });
  expect(ended.exit).toBe(1);
  expect(ended.out).toBe(
    `The record is broken: call ${second}, event 3: The event was changed after it was written.\n`,
  );
});

test('a call that is gone is found by the checkpoint that saw it', async () => {
  const { dataDir, second } = await aDataFolder();
  withFile(dataDir, (db) => {
    db.pragma('foreign_keys = OFF');
    for (const table of ['events', 'turns', 'snapshots'])
      db.prepare(`delete from ${table} where call = ?`).run(second);
    db.prepare('delete from calls where id = ?').run(second);
  });
  const ended = await verifyLog({ DATA_DIR: dataDir });
  expect(ended.exit).toBe(1);
  expect(ended.out).toContain(second);
});

test('a folder that is not there is unusable, is not made, and is said in one line', async () => {
  const dataDir = join(tempDir(), 'misspelt');
  const ended = await verifyLog({ DATA_DIR: dataDir });
  expect(ended.exit).toBe(2);
  expect(ended.out).toBe('');
  expect(ended.error.trimEnd().split('\n')).toHaveLength(1);
  expect(existsSync(dataDir)).toBe(false);
});

test('an address that names no database is unusable', async () => {
  const ended = await verifyLog({ DATA_DIR: tempDir(), DATABASE_URL: 'mysql://somewhere' });
  expect(ended).toMatchObject({ exit: 2, out: '' });
  expect(ended.error.trimEnd().split('\n')).toHaveLength(1);
});
