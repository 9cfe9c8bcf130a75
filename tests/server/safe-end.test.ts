/** A live call on which the program breaks: somebody to ring, a call-back that is open, and what was sent in the record. */
import { createServer } from 'node:http';
import { once } from 'node:events';
import { pino } from 'pino';
import request from 'supertest';
import { afterEach, expect, test } from 'vitest';
import { newId } from '../../src/basics/ids.ts';
import type { Runners } from '../../src/call/load-call.ts';
import { faultSchema } from '../../src/desk/contract/common.ts';
import { app } from '../../src/server/app.ts';
import { loadContent } from '../../src/server/content.ts';
import { reachDeps } from '../../src/server/due-deps.ts';
import { lineDeps } from '../../src/server/line-deps.ts';
import { speech } from '../../src/server/trial-phone/speech.ts';
import { deskDeps } from '../../src/server/start.ts';
import { openMemory } from '../../src/store/memory.ts';
import { DESK_NOW, smallContent } from '../support/a-desk.ts';
import { aSignIn } from '../support/a-sign-in.ts';
import { fixedClock } from '../support/fixed-clock.ts';
import { tempDir } from '../support/temp-dir.ts';

const WORDS = 'It has come up like a football since lunch';

/** The real desk in memory, with a machine that can be made to break. */
async function aDeskThatBreaks() {
  const folder = tempDir();
  const content = loadContent(smallContent(folder));
  if (!content.ok) throw new Error('The content does not load');
  const store = openMemory({ practiceKey: Buffer.alloc(32, 7) });
  const logged: string[] = [];
  const log = pino({ level: 'info' }, { write: (line: string) => logged.push(line) });
  const plain = deskDeps(content.value, store, fixedClock(DESK_NOW));
  const broken = { now: false };
  const runners: Runners = {
    of: (compiled) => breaking(plain.turn.runners.of(compiled), broken),
    known: (hash) => plain.turn.runners.known(hash),
  };
  const desk = { ...plain, turn: { ...plain.turn, runners } };
  const { doors, cookie } = await aSignIn(content.value, folder);
  const line = lineDeps(content.value, desk, { providerToken: 'test', publicUrl: 'http://127.0.0.1', log });
  const files = { shell: '', entry: '', scripts: new Map(), style: '' };
  const server = createServer(
    app({
      desk,
      line,
      reach: reachDeps(content.value, line, store),
      trial: { speech: speech(), address: () => '' },
      files,
      ...doors,
      log,
    }),
  );
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const nurse = await cookie('nurse');
  const post = (path: string, body: object) =>
    request(server).post(path).set('X-Call-Desk', 'test').set('Cookie', nurse).send(body);
  return {
    store,
    broken,
    logged,
    post,
    stop: async () => {
      server.close();
      await doors.signIn.close();
    },
  };
}

type Runner = ReturnType<Runners['of']>;

/** The same machine; while it is broken, whoever looks for a question's state meets an exception. */
function breaking(runner: Runner, broken: { readonly now: boolean }): Runner {
  return {
    ...runner,
    get questionIn() {
      if (broken.now) throw new Error(WORDS);
      return runner.questionIn;
    },
  };
}

const desks: Awaited<ReturnType<typeof aDeskThatBreaks>>[] = [];
afterEach(async () => {
  await Promise.all(desks.splice(0).map(({ stop }) => stop()));
});

async function aLiveCall() {
  const desk = await aDeskThatBreaks();
  desks.push(desk);
  const call = newId();
  const start = {
    call,
    token: newId(),
    direction: 'patient-rang',
    callerNumber: '07700 900123',
    chosen: null,
  };
  expect((await desk.post('/api/calls', start)).status).toBe(200);
  const says = (token: string, text: string) =>
    desk.post(`/api/calls/${call}/turns`, { token, input: { kind: 'opening', text } });
  return { ...desk, call: call as Parameters<typeof desk.store.calls.load>[0], says };
}

test('the nurse is told whom to ring, that it is written down, and that somebody rings back', async () => {
  const { broken, says, logged } = await aLiveCall();
  broken.now = true;
  const response = await says('token-of-the-opening', WORDS);
  const { fault, ring } = faultSchema.parse(response.body);
  expect([response.status, fault.code]).toEqual([500, 'defect']);
  expect(fault.message).toMatch(/in the record.*call-back within 5 minutes/);
  expect(ring[0]?.name).toBe('Dr Kwabena Osei-Lund');
  expect(logged.join('')).not.toContain('football');
});

test('a call-back is due in 5 minutes, once, and the record holds what was sent', async () => {
  const { broken, says, store, call } = await aLiveCall();
  broken.now = true;
  await says('token-of-the-opening', WORDS);
  await says('token-of-the-opening', WORDS);
  await says('another-token-of-it', WORDS);
  const promises = await store.calls.promisesOf(call);
  if (!promises.ok) throw new Error('The store is down');
  expect(promises.value).toMatchObject([
    { kind: 'call-back', state: 'open', owner: 'desk', dueAt: DESK_NOW + 5 * 60_000 },
  ]);
  expect(promises.value).toHaveLength(1);
  const broke = await store.calls.eventsOf(call, 'broke');
  if (!broke.ok) throw new Error('The store is down');
  expect(broke.value.map(({ open }) => open)).toEqual([{ input: 'opening' }, { input: 'opening' }]);
  expect(JSON.stringify(broke.value[0]?.sealed)).toContain(WORDS);
  expect(await store.chain.firstBrokenLink(() => undefined)).toEqual({ ok: true, value: null });
});

test('when the program is well again the same answer is taken, and the call-back stays open', async () => {
  const { broken, says, post, store, call } = await aLiveCall();
  broken.now = true;
  await says('token-of-the-opening', WORDS);
  broken.now = false;
  const again = await says('token-of-the-opening', WORDS);
  expect(again.status).toBe(200);
  expect(again.body).toMatchObject({ repeated: false, view: { opening: WORDS } });
  const note = { token: 'token-of-the-note', input: { kind: 'note', text: 'Back.' } };
  await post(`/api/calls/${call}/turns`, note);
  expect(await store.calls.promisesOf(call)).toMatchObject({ value: [{ kind: 'call-back', state: 'open' }] });
});

test('a call that breaks on its beginning begins all the same, with a call-back', async () => {
  const desk = await aDeskThatBreaks();
  desks.push(desk);
  desk.broken.now = true;
  const call = newId();
  const start = {
    call,
    token: newId(),
    direction: 'patient-rang',
    callerNumber: '07700 900123',
    chosen: null,
  };
  expect((await desk.post('/api/calls', start)).status).toBe(500);
  const events = await desk.store.calls.events(call as Parameters<typeof desk.store.calls.load>[0]);
  expect(events.ok && events.value.map(({ type }) => type)).toEqual(['call-started', 'broke', 'promised']);
  expect(JSON.stringify(events)).toContain('+447700900123');
});
