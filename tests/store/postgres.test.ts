/** The store on PostgreSQL keeps to what every store keeps to, also with several server processes on one database. */
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from 'vitest';
import { openPostgres } from '../../src/store/postgres.ts';
import type { Store } from '../../src/store/store.ts';
import {
  aHead,
  aKeptCall,
  aPatientId,
  aTurn,
  HEARD,
  kept,
  landTen,
  START,
  valueOf,
  wordsOf,
} from '../contract/a-turn.ts';
import { auditTrailFacts } from '../contract/audit-trail.case.ts';
import { callAuditFacts } from '../contract/call-audits.case.ts';
import { callStoreFacts } from '../contract/call-store.case.ts';
import { flowStoreFacts } from '../contract/flow-store.case.ts';
import { migrationFacts } from '../contract/migrations.case.ts';
import { aMessage, outboxFacts } from '../contract/outbox.case.ts';
import { peopleStoreFacts } from '../contract/people-store.case.ts';
import { recordChainFacts } from '../contract/record-chain.case.ts';
import { KEYS } from '../contract/store-under-test.ts';
import type { OpenedStore } from '../contract/store-under-test.ts';
import { postgresBase } from './migration-bases.ts';
import { cutWaiting, holdCalls, onDatabase, startPostgres, withoutGuards } from './postgres-server.ts';
import type { PostgresServer } from './postgres-server.ts';
import { sqlBackDoor } from './sql-back-door.ts';

let server: PostgresServer;
let shared: string;
beforeAll(async () => {
  server = await startPostgres();
  shared = await server.newDatabase();
});
afterAll(() => server.stop());

callStoreFacts(open);
peopleStoreFacts(open);
recordChainFacts(open);
flowStoreFacts(open);
auditTrailFacts(open);
callAuditFacts(open);
outboxFacts(open);
migrationFacts(async () => postgresBase(await server.newDatabase()));

describe('two server processes on one database', () => {
  it('opening it new at the same moment both find the tables', async () => {
    const url = await server.newDatabase();
    const stores = await Promise.all([openFor(url), openFor(url), openFor(url)]);
    for (const store of stores) await aKeptCall(store);
    expect(valueOf(await stores[0].calls.recent(9))).toHaveLength(3);
  });

  it('racing on one call each land every turn once', async () => {
    const url = await server.newDatabase();
    const [one, other] = await Promise.all([openFor(url), openFor(url)]);
    const { call } = await aKeptCall(one);
    await Promise.all([landTen(one, call, 'a'), landTen(other, call, 'b')]);
    const tokens = valueOf(await other.calls.events(call)).map((event) => event.open);
    expect(new Set(tokens.slice(2)).size).toBe(20);
    expect(tokens).toHaveLength(22);
    expect(await one.chain.firstBrokenLink(() => undefined)).toEqual({ ok: true, value: null });
  });

  it('making a checkpoint at the same moment make one chain of them', async () => {
    const url = await server.newDatabase();
    const stores = await Promise.all([openFor(url), openFor(url)]);
    for (let round = 0; round < 10; round += 1) {
      await Promise.all(stores.map((store) => aKeptCall(store)));
      await Promise.all(stores.map((store) => store.chain.checkpoint(START + round)));
    }
    await stores[0].chain.checkpoint(START + 10);
    expect(await stores[1].chain.checkpoint(START + 11)).toEqual({ ok: true, value: false });
    expect(await stores[1].chain.firstBrokenLink(() => undefined)).toEqual({ ok: true, value: null });
    const [seen] = await onDatabase(
      url,
      'select sum(jsonb_array_length(heads::jsonb)) as heads from checkpoints',
    );
    expect(seen).toEqual({ heads: 20 });
  });

  it('both lose the words of a patient whom one of them erased', async () => {
    const url = await server.newDatabase();
    const [one, other] = await Promise.all([openFor(url), openFor(url)]);
    const patientId = aPatientId();
    const { call } = await aKeptCall(one, { head: aHead({ patientId }) });
    expect(await wordsOf(one, call)).toEqual([{ words: HEARD }, null]);
    valueOf(await other.people.erasePatient(patientId));
    const late = aTurn({ call, expectedSeq: 2, sealedRead: true, head: aHead({ patientId }) });
    expect(await one.calls.commit(late)).toEqual({ ok: false, fault: 'stale' });
    expect(await wordsOf(one, call)).toEqual([null, null]);
  });

  it('claim 200 due messages at once, and each is claimed by one of them', async () => {
    const url = await server.newDatabase();
    const [one, other] = await Promise.all([openFor(url), openFor(url)]);
    const messages = Array.from({ length: 200 }, () => aMessage());
    await kept(one, aTurn({ messages: messages.map((message) => ({ write: 'add', message })) }));
    const claimed: string[] = [];
    const claimAll = async (store: Store, by: string): Promise<void> => {
      for (;;) {
        const message = valueOf(await store.outbox.claim({ now: START, by, leftBefore: 0 }));
        if (message === null) return;
        claimed.push(message.id);
      }
    };
    await Promise.all([one, one, other, other].map((store, n) => claimAll(store, `process ${String(n)}`)));
    expect(claimed.toSorted()).toEqual(messages.map(({ id }) => id).toSorted());
  });

  it('take turns on a call that each last saw at another point', async () => {
    const url = await server.newDatabase();
    const [one, other] = await Promise.all([openFor(url), openFor(url)]);
    const { call } = await aKeptCall(one);
    await kept(other, aTurn({ call, expectedSeq: 2 }));
    await kept(one, aTurn({ call, expectedSeq: 4 }));
    expect(await wordsOf(other, call)).toHaveLength(6);
    expect(await one.chain.firstBrokenLink(() => undefined)).toEqual({ ok: true, value: null });
  });
});

describe('a record on PostgreSQL', () => {
  it.each([
    "update events set open = '{}'",
    'delete from events',
    'truncate events',
    'update checkpoints set at = 1',
    'delete from checkpoints',
    'truncate checkpoints',
  ])('refuses: %s', async (sql) => {
    const url = await server.newDatabase();
    const store = await openFor(url);
    await aKeptCall(store);
    await store.chain.checkpoint(START);
    await expect(onDatabase(url, sql)).rejects.toThrow(/append-only/);
  });

  it('does not open under another practice key', async () => {
    const url = await server.newDatabase();
    await openFor(url);
    const other = { practiceKey: Buffer.alloc(32, 8) };
    await expect(openPostgres({ url, keys: other })).rejects.toThrow(/practice key/);
  });
});

describe('a lost connection', () => {
  it('answers that the store is down, once, and leaves nothing half done', async () => {
    const url = await server.newDatabase();
    const store = await openFor(url);
    const { call, seq } = await aKeptCall(store);
    // Another transaction holds the calls, so the turn waits inside its own and is cut off there.
    const release = await holdCalls(url);
    const cut = aTurn({ call, expectedSeq: seq });
    const end = store.calls.commit(cut);
    await cutWaiting(url);
    expect(await end).toEqual({ ok: false, fault: 'store-down' });
    await release();
    expect(await store.calls.replyTo(call, cut.token)).toEqual({ ok: true, value: null });
    expect(await kept(store, cut)).toBe(seq + 2);
    expect(await store.chain.firstBrokenLink(() => undefined)).toEqual({ ok: true, value: null });
  });

  it('of a pool at rest is replaced by the next turn', async () => {
    const url = await server.newDatabase();
    const store = await openFor(url);
    const { call, seq } = await aKeptCall(store);
    await onDatabase(
      url,
      `select pg_terminate_backend(pid) from pg_stat_activity
        where pid <> pg_backend_pid() and datname = current_database()`,
    );
    const turn = aTurn({ call, expectedSeq: seq });
    const first = await store.calls.commit(turn);
    expect(first.ok || first.fault === 'store-down').toBe(true);
    if (!first.ok) await kept(store, turn);
    expect(valueOf(await store.calls.load(call))?.seq).toBe(seq + 2);
  });

  it('to a server that is gone answers that the store is down', async () => {
    const other = await startPostgres();
    const store = await openPostgres({ url: await other.newDatabase(), keys: KEYS });
    const { call } = await aKeptCall(store);
    await other.stop();
    expect(await store.calls.commit(aTurn({ call, expectedSeq: 2 }))).toEqual({
      ok: false,
      fault: 'store-down',
    });
    expect(await store.calls.load(call)).toEqual({ ok: false, fault: 'store-down' });
    await store.close();
  });
});

/** The same database for every fact of a contract, emptied first. */
async function open(): Promise<OpenedStore> {
  const store = await openPostgres({ url: shared, keys: KEYS });
  const back = sqlBackDoor((sql, values) => withoutGuards(shared, sql, values ?? []));
  await back.empty();
  return { store, back };
}

async function openFor(url: string): Promise<Store> {
  const store = await openPostgres({ url, keys: KEYS });
  onTestFinished(() => store.close());
  return store;
}
