/** The line as it runs: its real webhooks over HTTP, real flows, a store in memory, a clock that is set; and a caller. */
import { once } from 'node:events';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import express from 'express';
import { pino } from 'pino';
import twilio from 'twilio';
import { callIdFrom, newId, type CallId } from '../../src/basics/ids.ts';
import { failed } from '../../src/basics/result.ts';
import type { CallStore, StoredEvent, StoredPromise } from '../../src/call/call-store.ts';
import { loadCall } from '../../src/call/load-call.ts';
import { standingOf, type Standing } from '../../src/call/step.ts';
import type { LineDeps } from '../../src/line/deps.ts';
import { lineRoutes } from '../../src/line/routes.ts';
import type { Content } from '../../src/server/content.ts';
import { lineDeps } from '../../src/server/line-deps.ts';
import { deskDeps } from '../../src/server/start.ts';
import { openMemory } from '../../src/store/memory.ts';
import type { Store } from '../../src/store/store.ts';
import { fixedClock, type FixedClock } from '../support/fixed-clock.ts';
import { realContent } from '../support/real-flows.ts';
import { readTwiml, spokenIn, type Verb } from './read-twiml.ts';

/** Tuesday 10 March 2026, 10:00 in London: the clinic is open. */
export const OPEN = Date.parse('2026-03-10T10:00:00Z');
/** Wednesday 11 March 2026, 03:00 in London: nobody is at the desk. */
export const NIGHT = Date.parse('2026-03-11T03:00:00Z');

const TOKEN = 'a key of the tests';
const PUBLIC_URL = 'https://line.example';

export interface Line {
  readonly deps: LineDeps;
  readonly store: Store;
  readonly clock: FixedClock;
  readonly content: Content;
  readonly ring: (changes?: Ringing) => Promise<Caller>;
  readonly post: Post;
  readonly stop: () => void;
}

interface Ringing {
  readonly from?: string;
  readonly sid?: string;
}

type Params = Readonly<Record<string, string>>;

export interface Answer {
  readonly status: number;
  readonly type: string;
  readonly body: string;
}

type Post = (path: string, params: Params, signature?: string) => Promise<Answer>;

let known: Content | null = null;

export interface LineChanges extends Partial<Content> {
  /** Whether a same-day visit can be met and the desk is staffed, whatever the clock says. */
  readonly isClinicOpen?: () => boolean;
  /** The record cannot be read. */
  readonly isDown?: () => boolean;
}

export async function aLine(at: number = NIGHT, changes: LineChanges = {}): Promise<Line> {
  const { isClinicOpen, isDown = () => false, ...own } = changes;
  const content = { ...(known ??= realContent()), ...own };
  const store = openMemory({ practiceKey: Buffer.alloc(32, 7) });
  const clock = fixedClock(at);
  const desk = deskDeps(content, store, clock);
  const log = pino({ level: 'silent' });
  const plain = lineDeps(content, desk, { providerToken: TOKEN, publicUrl: PUBLIC_URL, log });
  const identifying = { ...plain.turn.identifying, ...(isClinicOpen === undefined ? {} : { isClinicOpen }) };
  const replyTo: CallStore['replyTo'] = (call, token) =>
    isDown() ? Promise.resolve(failed('store-down')) : plain.turn.store.replyTo(call, token);
  const deps = {
    ...plain,
    turn: { ...plain.turn, identifying, store: { ...plain.turn.store, replyTo } },
    isOpen: isClinicOpen ?? plain.isOpen,
  };
  const server = createServer(express().use(lineRoutes(deps)));
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address() as AddressInfo;
  const post: Post = async (path, params, signature) => {
    const signed = signature ?? twilio.getExpectedTwilioSignature(TOKEN, `${PUBLIC_URL}${path}`, params);
    const response = await fetch(`http://127.0.0.1:${String(port)}${path}`, {
      method: 'POST',
      headers: { 'X-Twilio-Signature': signed },
      body: new URLSearchParams(params),
    });
    const type = response.headers.get('content-type') ?? '';
    return { status: response.status, type, body: await response.text() };
  };
  const line = { deps, store, clock, content, post, stop: () => server.close() };
  return { ...line, ring: (ringing) => Caller.rings(line, ringing ?? {}) };
}

type Wire = Pick<Line, 'post' | 'deps' | 'store'>;

/** Somebody who rings: hears what is said, says, keys, is silent, hangs up. */
export class Caller {
  readonly #wire: Wire;
  readonly sid: string;
  readonly from: string;
  verbs: readonly Verb[] = [];
  /** Everything heard, one text for each answer. */
  readonly heard: string[] = [];
  last: { readonly path: string; readonly params: Params } = { path: '', params: {} };
  body = '';

  private constructor(wire: Wire, { from, sid }: Ringing) {
    this.#wire = wire;
    this.sid = sid ?? `CA${newId().replaceAll('-', '')}`;
    this.from = from ?? '+447700900999';
  }

  static async rings(wire: Wire, ringing: Ringing): Promise<Caller> {
    const caller = new Caller(wire, ringing);
    await caller.send('/line/incoming', { CallStatus: 'ringing' });
    return caller;
  }

  get call(): CallId {
    return callIdFrom(`line ${this.sid}`);
  }

  get said(): string {
    return this.heard.at(-1) ?? '';
  }

  get gather(): Verb | null {
    return this.verbs.find(({ name }) => name === 'Gather') ?? null;
  }

  get dial(): Verb | null {
    return this.verbs.find(({ name }) => name === 'Dial') ?? null;
  }

  /** Where the reply to what was heard last goes. */
  get action(): string {
    const action = (this.gather ?? this.dial)?.attributes['action'];
    if (action === undefined) throw new Error(`Nothing is asked: ${this.said}`);
    return action;
  }

  get asked(): string {
    return new URLSearchParams(this.action.split('?')[1]).get('ask') ?? '';
  }

  get step(): string {
    return new URLSearchParams(this.action.split('?')[1]).get('step') ?? '';
  }

  async send(path: string, params: Params): Promise<this> {
    const all = { CallSid: this.sid, AccountSid: 'AC1', From: this.from, To: '+448081570100', ...params };
    this.last = { path, params: all };
    const answer = await this.#wire.post(path, all);
    if (answer.status !== 200) throw new Error(`${path} was answered ${String(answer.status)}`);
    this.body = answer.body;
    this.verbs = readTwiml(answer.body);
    this.heard.push(spokenIn(this.verbs));
    return this;
  }

  press(keys: string): Promise<this> {
    return this.send(this.action, { Digits: keys });
  }

  says(text: string, confidence = '0.9'): Promise<this> {
    return this.send(this.action, { SpeechResult: text, Confidence: confidence });
  }

  silent(): Promise<this> {
    return this.send(this.action, {});
  }

  async hangsUp(): Promise<number> {
    const params = { CallSid: this.sid, AccountSid: 'AC1', From: this.from, CallStatus: 'completed' };
    return (await this.#wire.post('/line/status', params)).status;
  }

  async standing(): Promise<Standing> {
    const loaded = await loadCall(this.#wire.deps.turn, this.call);
    if (!loaded.ok) throw new Error(loaded.fault.message);
    return standingOf(loaded.value.runner, loaded.value.snapshot);
  }

  async events(): Promise<readonly StoredEvent[]> {
    const events = await this.#wire.store.calls.events(this.call);
    return events.ok ? events.value : [];
  }

  async promises(): Promise<readonly StoredPromise[]> {
    const promises = await this.#wire.store.calls.promisesOf(this.call);
    return promises.ok ? promises.value : [];
  }
}
