/** The provider's side of outgoing rings and of texts: the real webhooks over HTTP, real flows, a store in memory. */
import { once } from 'node:events';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import express from 'express';
import { pino } from 'pino';
import twilio from 'twilio';
import { onTestFinished } from 'vitest';
import type { StoredMessage } from '../../src/call/outbox.ts';
import { sendOneDue, type DueDeps } from '../../src/follow/send-due.ts';
import { reachRoutes } from '../../src/line/reach-routes.ts';
import { dueDeps, reachDeps } from '../../src/server/due-deps.ts';
import { lineDeps } from '../../src/server/line-deps.ts';
import { deskDeps } from '../../src/server/start.ts';
import { openMemory } from '../../src/store/memory.ts';
import type { Store } from '../../src/store/store.ts';
import { fixedClock, type FixedClock } from '../support/fixed-clock.ts';
import { realContent } from '../support/real-flows.ts';
import type { TurnDeps } from '../../src/call/turn.ts';

/** Tuesday 10 March 2026, 10:00 in London. */
export const REACH_NOW = Date.parse('2026-03-10T10:00:00Z');
const TOKEN = 'a key of the tests';
const PUBLIC_URL = 'https://line.example';

const content = realContent();

export interface Answer {
  readonly status: number;
  readonly body: string;
}

export interface Reach {
  readonly turn: TurnDeps;
  readonly store: Store;
  readonly clock: FixedClock;
  /** Sends what is due; nothing leaves, as in every demonstration. */
  readonly sendDue: () => Promise<void>;
  readonly messages: () => Promise<readonly StoredMessage[]>;
  readonly post: (
    path: string,
    params: Readonly<Record<string, string>>,
    signature?: string,
  ) => Promise<Answer>;
}

export async function aReach(): Promise<Reach> {
  const store = openMemory({ practiceKey: Buffer.alloc(32, 7) });
  const clock = fixedClock(REACH_NOW);
  const desk = deskDeps(content, store, clock);
  const log = pino({ level: 'silent' });
  const line = lineDeps(content, desk, { providerToken: TOKEN, publicUrl: PUBLIC_URL, log });
  const server = createServer(express().use(reachRoutes(reachDeps(content, line, store))));
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  onTestFinished(() => void server.close());
  const { port } = server.address() as AddressInfo;
  const due: DueDeps = dueDeps(content, {
    config: { provider: null },
    turn: desk.turn,
    store,
    publicUrl: PUBLIC_URL,
  });
  return {
    turn: desk.turn,
    store,
    clock,
    sendDue: async () => {
      while ((await sendOneDue(due)) === 'done');
    },
    messages: async () => {
      const all = await store.outbox.recent(200);
      return all.ok ? all.value.toReversed() : [];
    },
    post: async (path, params, signature) => {
      const signed = signature ?? twilio.getExpectedTwilioSignature(TOKEN, `${PUBLIC_URL}${path}`, params);
      const response = await fetch(`http://127.0.0.1:${String(port)}${path}`, {
        method: 'POST',
        headers: { 'X-Twilio-Signature': signed },
        body: new URLSearchParams(params),
      });
      return { status: response.status, body: await response.text() };
    },
  };
}
