/** What the record chain of every store shows of a record that somebody changed behind its back. */
import { describe, expect, it } from 'vitest';
import type { CallId } from '../../src/basics/ids.ts';
import type { BrokenLink } from '../../src/call/call-store.ts';
import { checkpointHash, eventHash } from '../../src/store/record-hash.ts';
import type { EventRow } from '../../src/store/schema.ts';
import type { Store } from '../../src/store/store.ts';
import { aKeptCall, START, valueOf } from './a-turn.ts';
import { opened } from './store-under-test.ts';
import type { BackDoor, OpenedStore, OpenStore } from './store-under-test.ts';

export function recordChainFacts(open: OpenStore): void {
  describe('an untouched record', () => untouchedFacts(open));
  describe('a changed record', () => changedFacts(open));
  describe('a record cut off at its end', () => cutFacts(open));
  describe('a changed checkpoint', () => checkpointFacts(open));
}

function untouchedFacts(open: OpenStore): void {
  it('holds from the first call to the last, and says how far the walk is', async () => {
    const { store } = await opened(open);
    for (let call = 0; call < 60; call += 1) await aKeptCall(store);
    const walked: number[] = [];
    expect(await store.chain.firstBrokenLink((calls) => walked.push(calls))).toEqual({
      ok: true,
      value: null,
    });
    expect(walked.at(-1)).toBe(60);
    expect(walked.length).toBeGreaterThan(1);
  });

  it('is marked by a checkpoint only when a call moved since the last', async () => {
    const { store } = await opened(open);
    expect(await store.chain.checkpoint(START)).toEqual({ ok: true, value: false });
    await aKeptCall(store);
    expect(await store.chain.checkpoint(START + 1)).toEqual({ ok: true, value: true });
    expect(await store.chain.checkpoint(START + 2)).toEqual({ ok: true, value: false });
    await aKeptCall(store);
    expect(await store.chain.checkpoint(START + 3)).toEqual({ ok: true, value: true });
    expect(await brokenLink(store)).toBeNull();
  });
}

const CHANGES: Readonly<Record<Exclude<keyof EventRow, 'call' | 'seq'>, (row: EventRow) => EventRow>> = {
  at: (row) => ({ ...row, at: row.at + 1 }),
  by: (row) => ({ ...row, by: 'system' }),
  type: (row) => ({ ...row, type: 'heart' }),
  v: (row) => ({ ...row, v: 2 }),
  open: (row) => ({ ...row, open: row.open.replace('one-sided', 'one-sideD') }),
  sealed: (row) => ({ ...row, sealed: flipped(row.sealed ?? '') }),
  prev: (row) => ({ ...row, prev: flipped(row.prev) }),
  hash: (row) => ({ ...row, hash: flipped(row.hash) }),
};

function changedFacts(open: OpenStore): void {
  it.each(Object.entries(CHANGES))(
    'is named by the event whose %s differs in one byte',
    async (_column, changed) => {
      const { store, back } = await opened(open);
      const { call } = await aTouchedCall(store);
      const third = await eventAt(back, call, 3);
      await back.putEvent(changed(third));
      expect(await brokenLink(store)).toMatchObject({ call, seq: 3 });
    },
  );

  it('is named by the event after one that was changed together with its hash', async () => {
    const { store, back } = await opened(open);
    const { call } = await aTouchedCall(store);
    const third = await eventAt(back, call, 3);
    await back.putEvent(withHash({ ...third, at: third.at - 60_000 }));
    expect(await brokenLink(store)).toMatchObject({ call, seq: 4 });
  });

  it('is named by the event that is missing from its middle', async () => {
    const { store, back } = await opened(open);
    const { call } = await aTouchedCall(store);
    await back.dropEvent(call, 2);
    expect(await brokenLink(store)).toMatchObject({ call, seq: 2 });
  });

  it('is named by the event that was added after its end', async () => {
    const { store, back } = await opened(open);
    const { call, seq } = await aTouchedCall(store);
    const last = await eventAt(back, call, seq);
    await back.putEvent(withHash({ ...last, seq: seq + 1, prev: last.hash }));
    expect(await brokenLink(store)).toMatchObject({ call, seq: seq + 1 });
  });

  it('is named by the events of a call whose row is gone', async () => {
    const { store, back } = await opened(open);
    const { call } = await aTouchedCall(store);
    await back.dropCallRow(call);
    expect(await brokenLink(store)).toMatchObject({ call });
  });

  it('is named where a whole call was written anew after a checkpoint saw it', async () => {
    const { store, back } = await opened(open);
    const { call, seq } = await aTouchedCall(store);
    await store.chain.checkpoint(START);
    await rewrite(back, call);
    expect(await brokenLink(store)).toMatchObject({ call, seq });
  });
}

function cutFacts(open: OpenStore): void {
  it('is named by its last event, when the call still knows of it', async () => {
    const { store, back } = await opened(open);
    const { call, seq } = await aTouchedCall(store);
    await back.dropEvent(call, seq);
    expect(await brokenLink(store)).toMatchObject({ call, seq });
  });

  it('is named by the first event that is missing', async () => {
    const { store, back } = await opened(open);
    const { call, seq } = await aTouchedCall(store);
    await back.dropEvent(call, seq);
    await back.dropEvent(call, seq - 1);
    expect(await brokenLink(store)).toMatchObject({ call, seq: seq - 1 });
  });

  it('is named by its last event, when a checkpoint saw it and the call was set back', async () => {
    const { store, back } = await opened(open);
    const { call, seq } = await aTouchedCall(store);
    await store.chain.checkpoint(START);
    await back.dropEvent(call, seq);
    await back.setEnd(call, seq - 1, (await eventAt(back, call, seq - 1)).hash);
    expect(await brokenLink(store)).toMatchObject({ call, seq });
  });

  it('is named by a call that a checkpoint saw and that is gone with all its events', async () => {
    const { store, back } = await opened(open);
    const { call, seq } = await aTouchedCall(store);
    await store.chain.checkpoint(START);
    for (let each = seq; each > 0; each -= 1) await back.dropEvent(call, each);
    await back.dropCallRow(call);
    expect(await brokenLink(store)).toMatchObject({ call, seq });
  });
}

function checkpointFacts(open: OpenStore): void {
  it('is named when its time differs', async () => {
    const { store, back } = await withCheckpoints(open);
    const [first] = await back.checkpoints();
    if (first !== undefined) await back.putCheckpoint({ ...first, at: first.at + 1 });
    expect(await brokenLink(store)).toMatchObject({ call: null, seq: null });
  });

  it('is named when it was changed together with its hash, by the one after it', async () => {
    const { store, back } = await withCheckpoints(open);
    const [first] = await back.checkpoints();
    if (first !== undefined) {
      const changed = { ...first, at: first.at + 1 };
      await back.putCheckpoint({ ...changed, hash: checkpointHash(changed) });
    }
    expect((await brokenLink(store))?.what).toContain('Checkpoint 2');
  });

  it('is named when it is missing', async () => {
    const { store, back } = await withCheckpoints(open);
    await back.dropCheckpoint(1);
    expect((await brokenLink(store))?.what).toContain('Checkpoint 1');
  });
}

async function withCheckpoints(open: OpenStore): Promise<OpenedStore> {
  const it = await opened(open);
  for (const at of [START, START + 60_000]) {
    await aKeptCall(it.store);
    expect(await it.store.chain.checkpoint(at)).toEqual({ ok: true, value: true });
  }
  return it;
}

/** A call of six events with an untouched one before and after it. */
async function aTouchedCall(store: Store): Promise<{ readonly call: CallId; readonly seq: number }> {
  await aKeptCall(store);
  const touched = await aKeptCall(store, { turns: 3 });
  await aKeptCall(store);
  expect(await brokenLink(store)).toBeNull();
  return touched;
}

async function brokenLink(store: Store): Promise<BrokenLink | null> {
  return valueOf(await store.chain.firstBrokenLink(() => undefined));
}

async function eventAt(back: BackDoor, call: CallId, seq: number): Promise<EventRow> {
  const row = (await back.events(call)).find((event) => event.seq === seq);
  if (row === undefined) throw new Error('The test touches an event that is not there.');
  return row;
}

/** Every event an hour earlier, with hashes that fit and the call's end set to them: no trace within the call. */
async function rewrite(back: BackDoor, call: CallId): Promise<void> {
  let prev = '';
  for (const row of await back.events(call)) {
    const changed = withHash({ ...row, at: row.at - 3_600_000, prev });
    await back.putEvent(changed);
    await back.setEnd(call, changed.seq, changed.hash);
    prev = changed.hash;
  }
}

function withHash(row: EventRow): EventRow {
  return { ...row, hash: eventHash(row) };
}

/** The same text with its last letter or digit exchanged for another. */
function flipped(text: string): string {
  const last = text.replace(/=+$/, '').length - 1;
  return `${text.slice(0, last)}${text[last] === 'a' ? 'b' : 'a'}${text.slice(last + 1)}`;
}
