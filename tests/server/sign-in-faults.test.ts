/** The sign-in's database gone or locked: calls in progress go on, and whoever signs in now gets one clear sentence. */
import Database from 'better-sqlite3';
import { join } from 'node:path';
import { pino } from 'pino';
import { expect, onTestFinished, test } from 'vitest';
import { newId } from '../../src/basics/ids.ts';
import { USUAL_CONFIG } from '../../src/server/config.ts';
import { start } from '../../src/server/start.ts';
import { aBrowser } from '../support/a-browser.ts';
import { DESK_NOW, smallContent } from '../support/a-desk.ts';
import { startBody } from '../support/desk-api.ts';
import { fixedClock } from '../support/fixed-clock.ts';
import { signInAs } from '../support/sign-in-as.ts';
import { tempDir } from '../support/temp-dir.ts';
import request from 'supertest';

async function aServer() {
  const folder = tempDir();
  const flows = smallContent(folder);
  const dataDir = join(folder, 'data');
  const log = pino({ level: 'silent' });
  const config = { ...USUAL_CONFIG, port: 0, dataDir };
  const started = await start({ config, flows, clock: fixedClock(DESK_NOW), log });
  if (!started.ok) throw new Error(JSON.stringify(started.fault));
  onTestFinished(started.value.close);
  const address = started.value.address.replace(/\/$/, '');
  const password = started.value.demo?.password ?? '';
  return { address, password, file: join(dataDir, 'sign-in.db') };
}

function breakSessions(file: string): () => void {
  const db = new Database(file);
  db.exec('alter table session rename to elsewhere');
  return () => {
    db.exec('alter table elsewhere rename to session');
    db.close();
  };
}

test('gone: a call in progress goes on, a new sign-in is told, and all is well when it is back', async () => {
  const { address, password, file } = await aServer();
  const cookie = await signInAs(address, { name: 'bronagh-tully', password });
  const send = (path: string, body: object) =>
    request(address).post(path).set('X-Call-Desk', 'test').set('Cookie', cookie).send(body);
  const begun = await send('/api/calls', startBody());
  expect(begun.status).toBe(200);
  const call = String(begun.body.view.id);
  const mend = breakSessions(file);
  const note = { token: newId(), input: { kind: 'note', text: 'Still here.' } };
  expect((await send(`/api/calls/${call}/turns`, note)).status).toBe(200);
  const stranger = await aBrowser({ address, password }).signIn('nurse');
  expect(stranger.status).toBe(503);
  expect(stranger.text).toContain('Signing in does not work at the moment.');
  expect(stranger.text).not.toMatch(/SQLITE|no such table/i);
  mend();
  expect((await aBrowser({ address, password }).signIn('nurse')).status).toBe(303);
});

test('locked by somebody else: a new sign-in is told, and nobody waits for long', async () => {
  const { address, password, file } = await aServer();
  const db = new Database(file);
  db.exec('begin exclusive');
  const stranger = await aBrowser({ address, password }).signIn('nurse');
  expect(stranger.status).toBe(503);
  db.exec('rollback');
  db.close();
  expect((await aBrowser({ address, password }).signIn('nurse')).status).toBe(303);
});

test('a cookie that nobody here has seen cannot be looked up then, and opens nothing', async () => {
  const { address, password, file } = await aServer();
  const cookie = await signInAs(address, { name: 'bronagh-tully', password });
  const mend = breakSessions(file);
  // Signed in, but never used since: there is nothing to go on with.
  const response = await request(address).get('/api/calls').set('Cookie', cookie);
  expect([response.status, response.body.fault.code]).toEqual([503, 'store-down']);
  mend();
});
