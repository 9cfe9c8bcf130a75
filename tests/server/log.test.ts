/** The log of a whole run: no name, number or sentence of a patient or caller, no password, no token. */
import { join } from 'node:path';
import { readFileSync } from 'node:fs';
import { pino } from 'pino';
import { expect, onTestFinished, test } from 'vitest';
import { parse } from 'yaml';
import { newId } from '../../src/basics/ids.ts';
import { demoPeopleSchema } from '../../src/people/demo.ts';
import { USUAL_CONFIG } from '../../src/server/config.ts';
import { start } from '../../src/server/start.ts';
import { aBrowser } from '../support/a-browser.ts';
import { DESK_NOW, smallContent } from '../support/a-desk.ts';
import { startBody } from '../support/desk-api.ts';
import { fixedClock } from '../support/fixed-clock.ts';
import { signInAs } from '../support/sign-in-as.ts';
import { tempDir } from '../support/temp-dir.ts';
import request from 'supertest';

const SENTENCES = ['It has been weeping since Tuesday night', 'She sounds frightened of her own shadow'];

test('holds nothing that tells who rang or what was said', async () => {
  const folder = tempDir();
  const flows = smallContent(folder);
  const lines: string[] = [];
  const log = pino({ level: 'trace' }, { write: (line: string) => lines.push(line) });
  const config = { ...USUAL_CONFIG, port: 0, dataDir: join(folder, 'data') };
  const started = await start({ config, flows, clock: fixedClock(DESK_NOW), log });
  if (!started.ok) throw new Error('It did not start');
  onTestFinished(started.value.close);
  const address = started.value.address.replace(/\/$/, '');
  const { password = '', pin = '' } = started.value.demo ?? {};
  const people = demoPeopleSchema.parse(parse(readFileSync(join(flows, 'demo', 'people.yaml'), 'utf8')));

  const cookie = await signInAs(address, { name: 'bronagh-tully', password });
  const send = (path: string, body: object) =>
    request(address).post(path).set('X-Call-Desk', 'test').set('Cookie', cookie).send(body);
  const turn = (call: string, input: object) => send(`/api/calls/${call}/turns`, { token: newId(), input });
  const get = (path: string) => request(address).get(path).set('Cookie', cookie);
  for (const { surname, telephones } of people) {
    for (const q of [surname, ...telephones]) await get(`/api/find?q=${encodeURIComponent(q)}`);
  }
  const begun = await send('/api/calls', startBody({ callerNumber: '07700 900101' }));
  const call = String(begun.body.view.id);
  await turn(call, { kind: 'opening', text: SENTENCES[0] });
  await turn(call, { kind: 'note', text: SENTENCES[1] });
  await turn(call, { kind: SENTENCES[0] });
  await send('/api/calls', { surname: people[0]?.surname });
  for (const path of [
    `/api/calls/${call}`,
    `/api/calls/${call}/record`,
    '/api/promises',
    `/${SENTENCES[0] ?? ''}`,
  ]) {
    await get(path);
  }
  const browser = aBrowser({ address, password });
  await browser.signIn('nurse', SENTENCES[1]);
  await browser.send('/sign-in', { name: people[0]?.surname, password });
  await browser.get('/join?link=not-a-link-at-all');
  await browser.send('/clinician/not-a-link-at-all', { pin });

  // The clock's own digits can look like the end of a telephone number.
  const whole = lines.map((line) => line.replace(/"time":\d+/, '')).join('');
  expect(lines.length).toBeGreaterThan(25);
  const names = people.flatMap(({ firstName, surname }) => [firstName, surname]);
  const numbers = people.flatMap(({ telephones }) => telephones.map((one) => one.slice(-6)));
  const secrets = [password, pin, cookie.split('=')[1]?.slice(0, 16) ?? '', 'not-a-link-at-all'];
  expect(names.length + numbers.length).toBeGreaterThan(30);
  const found = [...names, ...numbers, ...SENTENCES, ...secrets, call].filter((text) => whole.includes(text));
  expect(found).toEqual([]);
  // Structured: every line is JSON with what was asked by its route.
  expect(lines.map((line) => typeof JSON.parse(line)).every((kind) => kind === 'object')).toBe(true);
});
