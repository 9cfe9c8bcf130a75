/** What every store keeps to about what is to be sent, and about the numbers that text. */
import { describe, expect, it } from 'vitest';
import { newId } from '../../src/basics/ids.ts';
import type { CallId, MessageId, PromiseId } from '../../src/basics/ids.ts';
import type { NewMessage, OutboxWrite, StoredMessage } from '../../src/call/outbox.ts';
import type { Store } from '../../src/store/store.ts';
import { aHead, aKeptCall, aPatientId, aPromise, aTurn, kept, START, valueOf } from './a-turn.ts';
import { opened } from './store-under-test.ts';
import type { OpenStore } from './store-under-test.ts';

const MINUTE = 60_000;
const NUMBER = '+447700900123';

export function outboxFacts(open: OpenStore): void {
  describe('a message', () => writingFacts(open));
  describe('a claim', () => claimFacts(open));
  describe('a number that texts', () => numberFacts(open));
}

export function aMessage(changes: Partial<NewMessage> = {}): NewMessage {
  return {
    id: newId<MessageId>(),
    promise: newId<PromiseId>(),
    kind: 'page',
    to: null,
    template: 'escalation',
    sealed: { number: NUMBER },
    dueAt: START,
    ...changes,
  };
}

function writingFacts(open: OpenStore): void {
  it('is kept with its turn, and is not there when the turn was not', async () => {
    const { store } = await opened(open);
    const message = aMessage();
    const turn = aTurn({ messages: [{ write: 'add', message }] });
    await kept(store, turn);
    expect(await read(store, message.id)).toEqual({
      ...message,
      call: turn.call,
      state: 'queued',
      tries: 0,
      claimedAt: null,
      claimedBy: null,
      providerId: null,
    });
    const other = aMessage();
    const late = aTurn({ call: turn.call, messages: [{ write: 'add', message: other }] });
    expect(await store.calls.commit(late)).toEqual({ ok: false, fault: 'stale' });
    expect(await store.outbox.message(other.id)).toEqual({ ok: true, value: null });
  });

  it('is added once, whatever is added under its name later', async () => {
    const { store } = await opened(open);
    const message = aMessage();
    const { changed } = await written(store, message);
    await changed({ write: 'add', message: { ...message, dueAt: START + MINUTE, template: 'other' } });
    expect(await read(store, message.id)).toMatchObject({ dueAt: START, template: 'escalation' });
  });

  it('that names or quotes is unreadable at rest', async () => {
    const { store, back } = await opened(open);
    const message = aMessage({ sealed: { number: NUMBER, words: 'Ottilie Brackwater' } });
    await written(store, message);
    const text = await back.everything();
    expect(text).not.toContain('Brackwater');
    expect(text).not.toContain(NUMBER.slice(1));
  });

  it('of an erased patient has lost its words', async () => {
    const { store } = await opened(open);
    const patientId = aPatientId();
    const message = aMessage();
    await kept(store, aTurn({ head: aHead({ patientId }), messages: [{ write: 'add', message }] }));
    valueOf(await store.people.erasePatient(patientId));
    expect((await read(store, message.id)).sealed).toBeNull();
  });

  it.each<[string, OutboxWrite['write'][], string, number]>([
    ['moved', ['move'], 'queued', START + MINUTE],
    ['withdrawn', ['withdraw'], 'withdrawn', START],
    ['withdrawn and then moved', ['withdraw', 'move'], 'withdrawn', START],
    ['settled and then moved and withdrawn', ['settle', 'move', 'withdraw'], 'delivered', START],
  ])('that is queued and %s stands so', async (_what, writes, state, dueAt) => {
    const { store } = await opened(open);
    const message = aMessage();
    const { changed } = await written(store, message);
    for (const write of writes) await changed(writeOf(write, message));
    expect(await read(store, message.id)).toMatchObject({ state, dueAt });
  });

  it('that is being sent is neither moved nor withdrawn by a turn', async () => {
    const { store } = await opened(open);
    const message = aMessage();
    const { changed } = await written(store, message);
    await claimed(store, START);
    for (const write of ['move', 'withdraw'] as const) await changed(writeOf(write, message));
    expect(await read(store, message.id)).toMatchObject({ state: 'sending', dueAt: START });
  });

  it('keeps its end, in whatever order words about it come', async () => {
    const { store } = await opened(open);
    const message = aMessage();
    const { changed } = await written(store, message);
    const settle = (state: 'sent' | 'delivered' | 'failed', providerId: string | null, to: string | null) =>
      changed({ write: 'settle', id: message.id, state, providerId, to });
    await settle('sent', 'sid-1', 'dr-ferreday');
    await settle('delivered', null, null);
    await settle('sent', 'sid-2', null);
    await settle('failed', null, null);
    expect(await read(store, message.id)).toMatchObject({
      state: 'delivered',
      providerId: 'sid-1',
      to: 'dr-ferreday',
    });
  });

  it('is listed by due time, the latest first, at most so many', async () => {
    const { store } = await opened(open);
    const messages = [1, 3, 2].map((n) => aMessage({ dueAt: START + n * MINUTE }));
    for (const message of messages) await written(store, message);
    const listed = valueOf(await store.outbox.recent(2));
    expect(listed.map(({ dueAt }) => (dueAt - START) / MINUTE)).toEqual([3, 2]);
  });
}

function claimFacts(open: OpenStore): void {
  it('hands out what is due, the longest due first, each once', async () => {
    const { store } = await opened(open);
    const [first, second, later] = [0, 1, 9].map((n) => aMessage({ dueAt: START + n }));
    for (const message of [second, later, first]) if (message) await written(store, message);
    expect(await claimed(store, START - 1)).toBeNull();
    expect(await claimed(store, START + 1)).toMatchObject({
      id: first?.id,
      state: 'sending',
      tries: 1,
      claimedAt: START + 1,
      claimedBy: 'a',
      sealed: { number: NUMBER },
    });
    expect(await claimed(store, START + 1)).toMatchObject({ id: second?.id });
    expect(await claimed(store, START + 1)).toBeNull();
  });

  it('of several at once gives each message to one of them', async () => {
    const { store } = await opened(open);
    const messages = Array.from({ length: 12 }, () => aMessage());
    for (const message of messages) await written(store, message);
    const all = await Promise.all(Array.from({ length: 20 }, (_, n) => claimed(store, START, String(n % 2))));
    const ids = all.flatMap((one) => (one === null ? [] : [one.id]));
    expect(ids.toSorted()).toEqual(messages.map(({ id }) => id).toSorted());
  });

  it('left by a dead process is handed out again, and its end counts once', async () => {
    const { store } = await opened(open);
    const message = aMessage();
    const { changed } = await written(store, message);
    await claimed(store, START);
    expect(await claimed(store, START + MINUTE, 'b', START - 1)).toBeNull();
    expect(await claimed(store, START + MINUTE, 'b', START)).toMatchObject({
      id: message.id,
      tries: 2,
      claimedBy: 'b',
    });
    await changed({ write: 'settle', id: message.id, state: 'sent', to: null, providerId: 'sid' });
    expect(await claimed(store, START + 9 * MINUTE, 'c', START + 8 * MINUTE)).toBeNull();
  });

  it('goes back and falls due again, or turns out not to be needed', async () => {
    const { store } = await opened(open);
    const message = aMessage();
    await written(store, message);
    await claimed(store, START);
    valueOf(await store.outbox.release(message.id, START + MINUTE));
    expect(await claimed(store, START)).toBeNull();
    expect(await claimed(store, START + MINUTE)).toMatchObject({ id: message.id, tries: 2 });
    valueOf(await store.outbox.withdraw(message.id));
    expect(await read(store, message.id)).toMatchObject({ state: 'withdrawn' });
    valueOf(await store.outbox.release(message.id, START));
    expect(await claimed(store, START + MINUTE)).toBeNull();
  });

  it('is answered by a store that is closed as everything else is', async () => {
    const { store } = await open();
    await store.close();
    expect(await store.outbox.claim({ now: START, by: 'a', leftBefore: 0 })).toEqual({
      ok: false,
      fault: 'store-down',
    });
  });
}

function numberFacts(open: OpenStore): void {
  const since = START - 60 * MINUTE;

  it('wants messages until it says stop, and again when it says so', async () => {
    const { store } = await opened(open);
    const stopped = async () => valueOf(await store.textNumbers.isStopped(NUMBER));
    expect(await stopped()).toBe(false);
    valueOf(await store.textNumbers.setStopped(NUMBER, true, START));
    valueOf(await store.textNumbers.setStopped(NUMBER, true, START + 1));
    expect(await stopped()).toBe(true);
    expect(valueOf(await store.textNumbers.isStopped('+447700900124'))).toBe(false);
    valueOf(await store.textNumbers.setStopped(NUMBER, false, START));
    expect(await stopped()).toBe(false);
  });

  it('belongs to one call, also when several texts come at once, and to a new one later', async () => {
    const { store } = await opened(open);
    valueOf(await store.textNumbers.setStopped(NUMBER, true, START));
    const callOf = async (at: number, from = since) =>
      valueOf(await store.textNumbers.callOf(NUMBER, { fresh: newId<CallId>(), at, since: from }));
    const calls = await Promise.all(Array.from({ length: 6 }, () => callOf(START)));
    expect(new Set(calls).size).toBe(1);
    expect(await callOf(START + 1)).toBe(calls[0]);
    const next = await callOf(START + MINUTE, START + 1);
    expect(calls).not.toContain(next);
    expect(await callOf(START + MINUTE, START + 1)).toBe(next);
    expect(valueOf(await store.textNumbers.isStopped(NUMBER))).toBe(true);
  });

  it('is written nowhere', async () => {
    const { store, back } = await opened(open);
    valueOf(await store.textNumbers.setStopped(NUMBER, true, START));
    expect(await back.everything()).not.toContain(NUMBER.slice(1));
  });
}

function writeOf(write: OutboxWrite['write'], message: NewMessage): OutboxWrite {
  const { id } = message;
  switch (write) {
    case 'add':
      return { write, message };
    case 'move':
      return { write, id, dueAt: START + MINUTE };
    case 'withdraw':
      return { write, id };
    case 'settle':
      return { write, id, state: 'delivered', to: null, providerId: null };
  }
}

interface WrittenMessage {
  /** A later turn of the same call. */
  readonly changed: (write: OutboxWrite) => Promise<void>;
}

async function written(store: Store, message: NewMessage): Promise<WrittenMessage> {
  const { call, seq } = await aKeptCall(store);
  let at = await kept(
    store,
    aTurn({ call, expectedSeq: seq, promises: [aPromise()], messages: [{ write: 'add', message }] }),
  );
  return {
    changed: async (write) => {
      at = await kept(store, aTurn({ call, expectedSeq: at, messages: [write] }));
    },
  };
}

async function claimed(store: Store, now: number, by = 'a', leftBefore = 0): Promise<StoredMessage | null> {
  return valueOf(await store.outbox.claim({ now, by, leftBefore }));
}

async function read(store: Store, id: MessageId): Promise<StoredMessage> {
  const message = valueOf(await store.outbox.message(id));
  if (message === null) throw new Error('The message is not there.');
  return message;
}
