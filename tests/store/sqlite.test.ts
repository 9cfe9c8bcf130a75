/** The store on SQLite keeps to what every store keeps to, and to what only a file can promise. */
import Database from 'better-sqlite3';
import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { openSqlite, openSqliteOn } from '../../src/store/sqlite.ts';
import type { Store } from '../../src/store/store.ts';
import { aPatient } from '../contract/a-patient.ts';
import { aHead, aKeptCall, aPromise, aTurn, kept, START, valueOf, wordsOf } from '../contract/a-turn.ts';
import { auditTrailFacts } from '../contract/audit-trail.case.ts';
import { callAuditFacts } from '../contract/call-audits.case.ts';
import { callStoreFacts } from '../contract/call-store.case.ts';
import { flowStoreFacts } from '../contract/flow-store.case.ts';
import { outboxFacts } from '../contract/outbox.case.ts';
import { peopleStoreFacts } from '../contract/people-store.case.ts';
import { recordChainFacts } from '../contract/record-chain.case.ts';
import { KEYS } from '../contract/store-under-test.ts';
import { tempDir } from '../support/temp-dir.ts';
import { openedSqlite } from './sqlite-back-door.ts';

callStoreFacts(openedSqlite);
peopleStoreFacts(openedSqlite);
recordChainFacts(openedSqlite);
flowStoreFacts(openedSqlite);
auditTrailFacts(openedSqlite);
callAuditFacts(openedSqlite);
outboxFacts(openedSqlite);

describe('a file', () => {
  it('opened again holds what was kept', async () => {
    const file = join(tempDir(), 'calls.sqlite');
    const first = await openSqlite({ file, keys: KEYS });
    const { call } = await aKeptCall(first, { turns: 2 });
    const words = await wordsOf(first, call);
    await first.close();
    const again = await closedAfter(openSqlite({ file, keys: KEYS }));
    expect(await wordsOf(again, call)).toEqual(words);
    expect(await again.chain.firstBrokenLink(() => undefined)).toEqual({ ok: true, value: null });
  });

  // SQLite documentation, "PRAGMA synchronous": 2 is FULL.
  it('is written with every commit flushed to the disk, also when it existed before', async () => {
    const file = join(tempDir(), 'calls.sqlite');
    await (await openSqlite({ file, keys: KEYS })).close();
    const db = new Database(file);
    await closedAfter(openSqliteOn(db, KEYS));
    expect(db.pragma('synchronous', { simple: true })).toBe(2);
    expect(db.pragma('journal_mode', { simple: true })).toBe('wal');
  });

  it('does not open under another practice key', async () => {
    const file = join(tempDir(), 'calls.sqlite');
    await (await openSqlite({ file, keys: KEYS })).close();
    await expect(openSqlite({ file, keys: { practiceKey: Buffer.alloc(32, 8) } })).rejects.toThrow(
      /practice key/,
    );
  });

  it('holds no byte of a destroyed key', async () => {
    const folder = tempDir();
    const file = join(folder, 'calls.sqlite');
    const store = await closedAfter(openSqlite({ file, keys: KEYS }));
    const patient = aPatient();
    valueOf(await store.people.savePatient(patient));
    await aKeptCall(store, { head: aHead({ patientId: patient.id }) });
    const wrapped = wrappedKeys(file);
    expect(wrapped).toHaveLength(2);
    expect(wrapped.every((key) => bytesOf(folder).includes(key))).toBe(true);
    valueOf(await store.people.erasePatient(patient.id));
    expect(wrapped.some((key) => bytesOf(folder).includes(key))).toBe(false);
  });
});

describe('a snapshot', () => {
  it('that does not belong to the last event is not taken for the state of the call', async () => {
    const db = new Database(join(tempDir(), 'calls.sqlite'));
    const store = await closedAfter(openSqliteOn(db, KEYS));
    const { call, seq } = await aKeptCall(store);
    const older = db.prepare('select sealed from snapshots').pluck().get();
    await kept(store, aTurn({ call, expectedSeq: seq }));
    db.prepare('update snapshots set sealed = ?').run(older);
    expect(valueOf(await store.calls.load(call))).toMatchObject({ seq: 4, snapshot: null });
  });
});

describe('a table that is gone for a while', () => {
  it('answers that the store is down to every waiting turn, and later turns are kept', async () => {
    const db = new Database(join(tempDir(), 'calls.sqlite'));
    const store = await closedAfter(openSqliteOn(db, KEYS));
    const turns = [aTurn({ promises: [aPromise()] }), aTurn()];
    db.exec('alter table promises rename to elsewhere');
    const ends = await Promise.all(turns.map((turn) => store.calls.commit(turn)));
    expect(ends).toEqual(turns.map(() => ({ ok: false, fault: 'store-down' })));
    db.exec('alter table elsewhere rename to promises');
    for (const turn of turns) expect(await kept(store, turn)).toBe(2);
    expect(await store.chain.firstBrokenLink(() => undefined)).toEqual({ ok: true, value: null });
  });
});

describe('a record on a file', () => {
  it.each([
    "update events set open = '{}'",
    'delete from events',
    'insert or replace into events select * from events',
    'update checkpoints set at = 1',
    'delete from checkpoints',
  ])('refuses: %s', async (sql) => {
    const db = new Database(join(tempDir(), 'calls.sqlite'));
    const store = await closedAfter(openSqliteOn(db, KEYS));
    await aKeptCall(store);
    await store.chain.checkpoint(START);
    expect(() => db.exec(sql)).toThrow(/append-only/);
  });
});

async function closedAfter(opening: Promise<Store>): Promise<Store> {
  const store = await opening;
  onTestFinished(() => store.close());
  return store;
}

function wrappedKeys(file: string): readonly string[] {
  const db = new Database(file, { readonly: true });
  const rows = db
    .prepare("select wrapped from wrapped_keys where kind <> 'practice'")
    .pluck()
    .all() as string[];
  db.close();
  return rows;
}

function bytesOf(folder: string): string {
  return readdirSync(folder)
    .map((name) => readFileSync(join(folder, name), 'latin1'))
    .join('\n');
}
