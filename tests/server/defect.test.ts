/** A defect in the middle of a call: the nurse is told whom to ring, and no word of the caller reaches the log. */
import { createServer } from 'node:http';
import { once } from 'node:events';
import { pino } from 'pino';
import request from 'supertest';
import { expect, test } from 'vitest';
import { app } from '../../src/server/app.ts';
import { loadContent } from '../../src/server/content.ts';
import { reachDeps } from '../../src/server/due-deps.ts';
import { lineDeps } from '../../src/server/line-deps.ts';
import { speech } from '../../src/server/trial-phone/speech.ts';
import { deskDeps } from '../../src/server/start.ts';
import { faultSchema } from '../../src/desk/contract/common.ts';
import { openMemory } from '../../src/store/memory.ts';
import { DESK_NOW, smallContent } from '../support/a-desk.ts';
import { aSignIn } from '../support/a-sign-in.ts';
import { fixedClock } from '../support/fixed-clock.ts';
import { tempDir } from '../support/temp-dir.ts';

const WORDS = 'my breast is the size of a football';

test('a store that throws gives 500 with the on-call clinician, and a log without words', async () => {
  const folder = tempDir();
  const content = loadContent(smallContent(folder));
  if (!content.ok) throw new Error('The content does not load');
  const store = openMemory({ practiceKey: Buffer.alloc(32, 7) });
  const calls = {
    ...store.calls,
    load: () => Promise.reject(new Error(WORDS)),
  };
  const logged: string[] = [];
  const log = pino({ level: 'info' }, { write: (line: string) => logged.push(line) });
  const desk = deskDeps(content.value, { ...store, calls }, fixedClock(DESK_NOW));
  const { doors, cookie } = await aSignIn(content.value, folder);
  const line = lineDeps(content.value, desk, { providerToken: 'test', publicUrl: 'http://127.0.0.1', log });
  const server = createServer(
    app({
      desk,
      line,
      trial: { speech: speech(), address: () => '' },
      reach: reachDeps(content.value, line, store),
      files: { shell: '', entry: '', scripts: new Map(), style: '' },
      ...doors,
      log,
    }),
  );
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const response = await request(server)
    .post('/api/calls/01980000-0000-7000-8000-000000000999/turns')
    .set('X-Call-Desk', 'test')
    .set('Cookie', await cookie('nurse'))
    .send({ token: 'token-of-this-turn', input: { kind: 'note', text: WORDS } });
  server.close();
  await doors.signIn.close();
  const { fault, ring } = faultSchema.parse(response.body);
  expect([response.status, fault.code]).toEqual([500, 'defect']);
  expect(ring[0]?.name).toBe('Dr Kwabena Osei-Lund');
  expect(logged.join('')).toContain('defect');
  expect(logged.join('')).not.toContain('football');
  expect(logged.join('')).not.toContain('000000000999');
});
