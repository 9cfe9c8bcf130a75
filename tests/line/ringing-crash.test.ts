/** The server is killed between two answers of a call and started again: the call goes on as if nothing had been. */
import { afterAll, beforeAll, expect, test } from 'vitest';
import { Call } from './simulator/call.ts';
import { keptCall } from './simulator/demo-patients.ts';
import { inTheEvening } from './simulator/evening.ts';
import { send, type Sending } from './simulator/provider.ts';
import { aServer, type Server } from './simulator/server-process.ts';
import { saysAllIsWell, sayWell } from './simulator/well-caller.ts';

let server: Server;
let calls: readonly Call[];
let spared: Call;
let struck: Call;
/** What the provider has no answer to yet when the power goes. */
let cut: readonly Sending[];

beforeAll(async () => {
  server = await aServer({ practice: inTheEvening });
  await server.start();
  calls = await Promise.all(Array.from({ length: 12 }, () => Call.rings(server.site)));
  for (const [answers, call] of calls.entries()) {
    for (let n = 0; n < answers; n += 1) await sayWell(call);
  }
  [spared, struck] = [await Call.rings(server.site), await Call.rings(server.site)];
  for (let n = 0; n < 6; n += 1) await Promise.all([sayWell(spared), sayWell(struck)]);
  await saysAllIsWell(spared);
  cut = calls.map((call) => ({ url: call.next, form: call.form({}) }));
  const unanswered = cut.map((request) => send(server.site, request).catch(() => null));
  await server.kill();
  await Promise.all(unanswered);
  await server.start();
});
afterAll(() => server.remove());

test('an answer that was under way, at any stage of a call, is taken once when it is repeated', async () => {
  expect(new Set(calls.map(({ said }) => said)).size).toBeGreaterThan(6);
  const repeated = await Promise.all(cut.map((request) => send(server.site, request)));
  expect(repeated.map(({ status }) => status)).toEqual(calls.map(() => 200));
  const kept = calls.map(({ sid }) => keptCall(server.dataDir, sid));
  expect(await Promise.all(cut.map((request) => send(server.site, request)))).toEqual(repeated);
  expect(calls.map(({ sid }) => keptCall(server.dataDir, sid))).toEqual(kept);
});

test('a call goes on to its end, and ends as one that nothing happened to', async () => {
  await saysAllIsWell(struck);
  expect(struck.heard).toEqual(spared.heard);
  const [one, other] = [spared, struck].map(({ sid }) => keptCall(server.dataDir, sid));
  expect(other).toEqual(one);
  expect(one).toMatchObject({ outcome: 'advise/none/-', state: 'closed' });
});
