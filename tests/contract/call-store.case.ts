/** What every store of calls keeps to, whatever is behind it. */
import { describe, expect, it } from 'vitest';
import type { CallId } from '../../src/basics/ids.ts';
import { newId } from '../../src/basics/ids.ts';
import type { Json } from '../../src/basics/json.ts';
import type { TurnWrite } from '../../src/call/call-store.ts';
import type { Store } from '../../src/store/store.ts';
import {
  aHead,
  aKeptCall,
  anEvent,
  anOperationId,
  aPromise,
  aTurn,
  HEARD,
  kept,
  landTen,
  START,
  valueOf,
} from './a-turn.ts';
import { opened } from './store-under-test.ts';
import type { OpenStore } from './store-under-test.ts';

export function callStoreFacts(open: OpenStore): void {
  describe('a turn', () => turnFacts(open));
  describe('a token', () => tokenFacts(open));
  describe('writers at once', () => raceFacts(open));
  describe('what is looked up', () => listFacts(open));
  describe('what is written', () => textFacts(open));
}

function turnFacts(open: OpenStore): void {
  it('is kept whole: head, events in order, snapshot, reply and promises', async () => {
    const { store } = await opened(open);
    const turn = aTurn({ promises: [aPromise()] });
    expect(await store.calls.commit(turn)).toEqual({ ok: true, value: { seq: 2 } });
    expect(valueOf(await store.calls.load(turn.call))).toEqual({
      call: turn.call,
      head: turn.head,
      seq: 2,
      snapshot: turn.snapshot,
    });
    const events = valueOf(await store.calls.events(turn.call));
    expect(events).toMatchObject(
      turn.events.map((event, index) => ({ ...event, call: turn.call, seq: index + 1, erased: false })),
    );
    expect(valueOf(await store.calls.replyTo(turn.call, turn.token))).toEqual(turn.reply);
    expect(valueOf(await store.calls.promisesOf(turn.call))).toEqual([
      { ...turn.promises[0], call: turn.call },
    ]);
  });

  it('has its events of one type by themselves, in their order', async () => {
    const { store } = await opened(open);
    const { call } = await aKeptCall(store, { turns: 3 });
    const heard = valueOf(await store.calls.eventsOf(call, 'heard'));
    expect(heard.map(({ seq, sealed }) => ({ seq, sealed }))).toEqual(
      [1, 3, 5].map((seq) => ({ seq, sealed: { words: HEARD } })),
    );
    expect(await store.calls.eventsOf(call, 'noted')).toEqual({ ok: true, value: [] });
  });

  it('that follows replaces head and snapshot and adds its events', async () => {
    const { store } = await opened(open);
    const { call, seq } = await aKeptCall(store);
    const head = aHead({
      state: 'closed',
      outcome: 'advise/none/',
      about: 'infection',
      operationId: anOperationId(),
    });
    expect(
      await kept(store, aTurn({ call, expectedSeq: seq, head, events: [anEvent()], snapshot: ['b'] })),
    ).toBe(3);
    expect(valueOf(await store.calls.load(call))).toEqual({ call, head, seq: 3, snapshot: ['b'] });
    expect(valueOf(await store.calls.events(call)).map((event) => event.seq)).toEqual([1, 2, 3]);
  });

  it('of a call that nobody knows is neither loaded nor guessed', async () => {
    const { store } = await opened(open);
    const call = newId<CallId>();
    expect(await store.calls.load(call)).toEqual({ ok: true, value: null });
    expect(await store.calls.events(call)).toEqual({ ok: true, value: [] });
    expect(await store.calls.replyTo(call, 'token')).toEqual({ ok: true, value: null });
    expect(await store.calls.promisesOf(call)).toEqual({ ok: true, value: [] });
  });

  it.each([
    ['behind the call', 2],
    ['ahead of the call', 9],
    ['at the start of a call that exists', 0],
  ])('computed from %s is stale and leaves nothing behind', async (_where, expectedSeq) => {
    const { store } = await opened(open);
    const { call } = await aKeptCall(store, { turns: 2 });
    const before = await everythingOf(store, call);
    const late = aTurn({ call, expectedSeq, head: aHead({ state: 'closed' }), promises: [aPromise()] });
    expect(await store.calls.commit(late)).toEqual({ ok: false, fault: 'stale' });
    expect(await everythingOf(store, call)).toEqual(before);
    expect(await store.calls.replyTo(call, late.token)).toEqual({ ok: true, value: null });
  });

  it('that expects events of a call that nobody knows is stale', async () => {
    const { store } = await opened(open);
    expect(await store.calls.commit(aTurn({ expectedSeq: 4 }))).toEqual({ ok: false, fault: 'stale' });
  });

  it('without events keeps its reply and moves nothing', async () => {
    const { store } = await opened(open);
    const { call, seq } = await aKeptCall(store);
    const silent = aTurn({ call, expectedSeq: seq, events: [], reply: 'again' });
    expect(await kept(store, silent)).toBe(seq);
    expect(valueOf(await store.calls.replyTo(call, silent.token))).toBe('again');
    expect(valueOf(await store.calls.load(call))?.seq).toBe(seq);
  });

  it('that begins a call without an event is a defect, and the turns beside it are kept', async () => {
    const { store } = await opened(open);
    const broken = aTurn({ events: [] });
    const [defect, beside] = await Promise.allSettled([
      store.calls.commit(broken),
      store.calls.commit(aTurn()),
    ]);
    expect(defect.status).toBe('rejected');
    expect(beside).toEqual({ status: 'fulfilled', value: { ok: true, value: { seq: 2 } } });
    expect(await store.calls.load(broken.call)).toEqual({ ok: true, value: null });
  });

  it('after the store was closed answers that the store is down', async () => {
    const { store } = await open();
    await store.close();
    expect(await store.calls.commit(aTurn())).toEqual({ ok: false, fault: 'store-down' });
    expect(await store.calls.load(newId<CallId>())).toEqual({ ok: false, fault: 'store-down' });
  });
}

function tokenFacts(open: OpenStore): void {
  it('that comes twice is answered with the first reply, and the second turn leaves nothing', async () => {
    const { store } = await opened(open);
    const first = aTurn({ reply: 'first' });
    await kept(store, first);
    const before = await everythingOf(store, first.call);
    expect(await store.calls.commit({ ...first, reply: 'second' })).toEqual({ ok: false, fault: 'seen' });
    const later = { ...first, expectedSeq: 2, reply: 'third', promises: [aPromise()] };
    expect(await store.calls.commit(later)).toEqual({ ok: false, fault: 'seen' });
    expect(valueOf(await store.calls.replyTo(first.call, first.token))).toBe('first');
    expect(await everythingOf(store, first.call)).toEqual(before);
  });

  it('is unique in its call only', async () => {
    const { store } = await opened(open);
    const [one, other] = [aTurn({ token: 'same', reply: 1 }), aTurn({ token: 'same', reply: 2 })];
    await kept(store, one);
    await kept(store, other);
    expect(valueOf(await store.calls.replyTo(one.call, 'same'))).toBe(1);
    expect(valueOf(await store.calls.replyTo(other.call, 'same'))).toBe(2);
  });

  it('keeps its own old reply after later turns', async () => {
    const { store } = await opened(open);
    const first = aTurn({ reply: { say: 'the first question' } });
    await kept(store, first);
    await kept(store, aTurn({ call: first.call, expectedSeq: 2 }));
    expect(valueOf(await store.calls.replyTo(first.call, first.token))).toEqual({
      say: 'the first question',
    });
  });
}

function raceFacts(open: OpenStore): void {
  it('with one turn sent eight times at once keep it once and see it seven times', async () => {
    const { store } = await opened(open);
    for (const turn of await aFirstAndALaterTurn(store)) {
      const ends = await Promise.all(Array.from({ length: 8 }, () => store.calls.commit(turn)));
      expect(ends.filter((end) => end.ok)).toHaveLength(1);
      expect(ends.filter((end) => !end.ok && end.fault === 'seen')).toHaveLength(7);
    }
  });

  it('on one call each land every turn once, and the call never forks', async () => {
    const { store } = await opened(open);
    const { call } = await aKeptCall(store);
    await Promise.all([landTen(store, call, 'a'), landTen(store, call, 'b')]);
    const events = valueOf(await store.calls.events(call)).slice(2);
    expect(events.map((event) => event.seq)).toEqual(Array.from({ length: 20 }, (_, index) => index + 3));
    const tokens = events.map((event) => event.open);
    expect(new Set(tokens).size).toBe(20);
    expect(await store.chain.firstBrokenLink(() => undefined)).toEqual({ ok: true, value: null });
  });

  it('on many calls harm each other nowhere', async () => {
    const { store } = await opened(open);
    const calls = await Promise.all(Array.from({ length: 24 }, () => aKeptCall(store, { turns: 3 })));
    for (const { call, seq } of calls) expect(valueOf(await store.calls.load(call))?.seq).toBe(seq);
    expect(await store.chain.firstBrokenLink(() => undefined)).toEqual({ ok: true, value: null });
  });
}

function listFacts(open: OpenStore): void {
  it('about one operation are the calls since a time, that time included, newest first', async () => {
    const { store } = await opened(open);
    const operationId = anOperationId();
    const times = [START, START + 10, START + 20];
    for (const startedAt of times) await aKeptCall(store, { head: aHead({ operationId, startedAt }) });
    await aKeptCall(store, { head: aHead({ operationId: anOperationId(), startedAt: START + 15 }) });
    const found = valueOf(await store.calls.callsAbout(operationId, START + 10));
    expect(found.map(({ head }) => head.startedAt)).toEqual([START + 20, START + 10]);
  });

  it('in the log are the newest calls, no more than asked for', async () => {
    const { store } = await opened(open);
    for (const startedAt of [START + 1, START + 3, START + 2])
      await aKeptCall(store, { head: aHead({ startedAt }) });
    const newest = valueOf(await store.calls.recent(2));
    expect(newest.map(({ head }) => head.startedAt)).toEqual([START + 3, START + 2]);
  });

  it('as open promises come by their due time, those without one last, finished ones not at all', async () => {
    const { store } = await opened(open);
    const late = aPromise({ dueAt: START + 900 });
    const early = aPromise({ dueAt: START + 100 });
    const never = aPromise({ dueAt: null });
    const done = aPromise({ dueAt: START + 50, state: 'done' });
    await kept(store, aTurn({ promises: [never, late, done] }));
    await kept(store, aTurn({ promises: [early] }));
    const open_ = valueOf(await store.calls.openPromises());
    expect(open_.map(({ id }) => id)).toEqual([early.id, late.id, never.id]);
  });

  it('as a promise is what the last turn made of it', async () => {
    const { store } = await opened(open);
    const promise = aPromise();
    const turn = aTurn({ promises: [promise] });
    await kept(store, turn);
    const ended = { ...promise, owner: 'user:nurse-2', dueAt: null, state: 'done', open: { by: 2 } } as const;
    await kept(store, aTurn({ call: turn.call, expectedSeq: 2, promises: [ended] }));
    expect(valueOf(await store.calls.promisesOf(turn.call))).toEqual([{ ...ended, call: turn.call }]);
    expect(valueOf(await store.calls.openPromises())).toEqual([]);
  });
}

const HOSTILE: readonly Json[] = [
  "Robert'); drop table events; --",
  'Zoë Ångström, 王小明, مريم, 👩🏽‍⚕️, e\u0301',
  'a\u0000b\u001b[2J\r\n\u2028\u2029\ufeff',
  'half a pair \ud83d, the other half \udc69',
  '"\\"{}[],:%s ${x} $1 ? :name @p',
  { ['__proto__']: 'kept', constructor: null, '': [[], {}, [null]] },
  [0.1, 1e21, -1.5, 9_007_199_254_740_991, true, false, null],
  'x'.repeat(200_000),
];

function textFacts(open: OpenStore): void {
  it.each(HOSTILE.map((text, index) => [index, text] as const))(
    'comes back as it was: hostile text %i',
    async (_index, text) => {
      const { store } = await opened(open);
      const events = [anEvent({ open: text, sealed: { text } })];
      const turn = aTurn({ events, snapshot: { text }, reply: text, promises: [aPromise({ open: text })] });
      await kept(store, turn);
      const [event] = valueOf(await store.calls.events(turn.call));
      expect(event).toMatchObject({ open: text, sealed: { text } });
      expect(valueOf(await store.calls.load(turn.call))?.snapshot).toEqual({ text });
      expect(valueOf(await store.calls.replyTo(turn.call, turn.token))).toEqual(text);
      expect(valueOf(await store.calls.promisesOf(turn.call))[0]?.open).toEqual(text);
      expect(await store.chain.firstBrokenLink(() => undefined)).toEqual({ ok: true, value: null });
    },
  );

  it('is told apart: nothing sealed is not something erased', async () => {
    const { store } = await opened(open);
    const turn = aTurn({ events: [anEvent({ sealed: null })] });
    await kept(store, turn);
    expect(valueOf(await store.calls.events(turn.call))).toMatchObject([{ sealed: null, erased: false }]);
  });

  it('in sealed places stands nowhere in the database as it was said', async () => {
    const { store, back } = await opened(open);
    const secret = { words: HEARD };
    await kept(store, aTurn({ snapshot: secret, reply: secret }));
    const stored = await back.everything();
    expect(stored).toContain('one-sided');
    expect(stored).not.toContain('Ottilie');
    expect(stored).not.toContain('tight');
  });
}

async function everythingOf(store: Store, call: CallId): Promise<unknown> {
  const { events, load, promisesOf } = store.calls;
  return [await events(call), await load(call), await promisesOf(call)];
}

async function aFirstAndALaterTurn(store: Store): Promise<readonly TurnWrite[]> {
  const { call, seq } = await aKeptCall(store);
  return [aTurn(), aTurn({ call, expectedSeq: seq })];
}
