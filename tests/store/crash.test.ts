/** A process killed in the middle of writing, and a disk that refuses, cost no acknowledged turn and leave no half one. */
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, it, onTestFinished } from 'vitest';
import { openSqlite, openSqliteOn } from '../../src/store/sqlite.ts';
import type { Store } from '../../src/store/store.ts';
import { aKeptCall, anEvent, aTurn, kept, valueOf } from '../contract/a-turn.ts';
import { KEYS } from '../contract/store-under-test.ts';
import { tempDir } from '../support/temp-dir.ts';
import type { Acknowledged } from './crash-writer.ts';
import { startWriter } from './writer-process.ts';

describe('a process killed while it writes', () => {
  it('has kept every turn that it acknowledged and no half turn, round after round', async () => {
    const file = join(tempDir(), 'calls.sqlite');
    const acknowledged: Acknowledged[] = [];
    for (const many of [1, 60, 240]) {
      const writer = startWriter({ file });
      await writer.until(() => writer.acknowledged.length >= many);
      await writer.kill();
      acknowledged.push(...writer.acknowledged);
      await expectWhole(file, acknowledged);
    }
    expect(acknowledged.length).toBeGreaterThanOrEqual(301);
  });
});

describe('a disk that refuses', () => {
  // The limit on a file's size (POSIX setrlimit, RLIMIT_FSIZE) fails the write of the log, which is the COMMIT.
  it('at COMMIT answers that the store is down to every waiting turn, and later turns are kept', async () => {
    const file = join(tempDir(), 'calls.sqlite');
    const writer = startWriter({ file, largestFile: 1_000_000 });
    await writer.until(() => writer.down() === 6);
    const before = writer.acknowledged.length;
    expect(before).toBeGreaterThan(0);
    writer.goAhead();
    await writer.until(() => writer.acknowledged.length >= before + 60);
    await writer.kill();
    await expectWhole(file, writer.acknowledged);
  });

  // SQLite documentation, "PRAGMA max_page_count": beyond it a statement fails with SQLITE_FULL.
  it('inside a statement leaves nothing half done, and later turns are kept', async () => {
    const db = new Database(join(tempDir(), 'calls.sqlite'));
    const store = await openSqliteOn(db, KEYS);
    onTestFinished(() => store.close());
    const { call, seq } = await aKeptCall(store);
    db.pragma(`max_page_count = ${String(db.pragma('page_count', { simple: true }))}`);
    const large = aTurn({ call, expectedSeq: seq, events: [anEvent({ open: 'x'.repeat(100_000) })] });
    const beside = [aTurn(), aTurn()];
    const ends = await Promise.all([large, ...beside].map((turn) => store.calls.commit(turn)));
    expect(ends).toEqual(ends.map(() => ({ ok: false, fault: 'store-down' })));
    expect(valueOf(await store.calls.load(call))?.seq).toBe(seq);
    for (const turn of beside) expect(valueOf(await store.calls.load(turn.call))).toBeNull();
    db.pragma('max_page_count = 100000');
    for (const turn of [large, ...beside]) await kept(store, turn);
    expect(await store.chain.firstBrokenLink(() => undefined)).toEqual({ ok: true, value: null });
  });
});

async function expectWhole(file: string, acknowledged: readonly Acknowledged[]): Promise<void> {
  const store = await openSqlite({ file, keys: KEYS });
  for (const { call, token, seq } of acknowledged) {
    expect(valueOf(await store.calls.replyTo(call, token))).toEqual({ token });
    expect(valueOf(await store.calls.load(call))?.seq).toBeGreaterThanOrEqual(seq);
  }
  const calls = valueOf(await store.calls.recent(1_000));
  for (const { call } of calls) await expectWholeCall(store, file, call);
  expect(await store.chain.firstBrokenLink(() => undefined)).toEqual({ ok: true, value: null });
  await store.close();
}

/** Every turn of the writer has two events, a promise, and its token in the snapshot. */
async function expectWholeCall(store: Store, file: string, call: Acknowledged['call']): Promise<void> {
  const loaded = valueOf(await store.calls.load(call));
  const turns = tokensOf(file, call);
  expect(loaded?.seq).toBe(turns.length * 2);
  expect(valueOf(await store.calls.events(call))).toHaveLength(turns.length * 2);
  expect(valueOf(await store.calls.promisesOf(call))).toHaveLength(turns.length);
  expect(loaded?.snapshot).toEqual({ token: turns.at(-1) });
}

function tokensOf(file: string, call: string): readonly string[] {
  const db = new Database(file, { readonly: true });
  try {
    return db.prepare('select token from turns where call = ? order by seq').pluck().all(call) as string[];
  } finally {
    db.close();
  }
}
