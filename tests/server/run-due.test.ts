/** The server's own work: a checkpoint of what moved, and none where nothing did. */
import { pino } from 'pino';
import { expect, test } from 'vitest';
import type { RecordChain } from '../../src/call/call-store.ts';
import { failed } from '../../src/basics/result.ts';
import { checkpoint, runDue } from '../../src/server/run-due.ts';
import { aPractice } from '../support/a-practice.ts';

const log = pino({ level: 'silent' });

test('a call that moved is in the next checkpoint, and only there', async () => {
  const practice = aPractice();
  await practice.ring();
  await checkpoint({ chain: practice.store.chain, clock: practice.clock, log });
  expect(await practice.store.chain.checkpoint(practice.clock.now())).toEqual({ ok: true, value: false });
  await practice.ring();
  expect(await practice.store.chain.checkpoint(practice.clock.now())).toEqual({ ok: true, value: true });
});

test('stopping takes a last checkpoint', async () => {
  const practice = aPractice();
  await practice.ring();
  await runDue({ chain: practice.store.chain, due: null, clock: practice.clock, log }).stop();
  expect(await practice.store.chain.checkpoint(practice.clock.now())).toEqual({ ok: true, value: false });
});

test.each([
  ['is down', async () => failed('store-down' as const)],
  ['breaks', async () => Promise.reject(new Error('broken'))],
])('a store that %s ends nothing', async (_what, write) => {
  const { store, clock } = aPractice();
  const chain: RecordChain = { ...store.chain, checkpoint: write };
  await expect(checkpoint({ chain, clock, log })).resolves.toBeUndefined();
});
