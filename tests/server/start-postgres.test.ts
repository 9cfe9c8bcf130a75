/** `npm start` on a real PostgreSQL: two server processes take one call together, and a third one reads its record. */
import { join } from 'node:path';
import { pino } from 'pino';
import request from 'supertest';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../src/basics/ids.ts';
import { systemClock } from '../../src/basics/system-clock.ts';
import { recordAnswerSchema } from '../../src/desk/contract/record.ts';
import { turnAnswerSchema, type TurnAnswer } from '../../src/desk/contract/call-view.ts';
import { USUAL_CONFIG } from '../../src/server/config.ts';
import { loadContent } from '../../src/server/content.ts';
import { keyFileIn, openConfiguredStore } from '../../src/server/open-store.ts';
import { seedDemoSignIns } from '../../src/server/sign-in/demo-sign-ins.ts';
import { openSignIn } from '../../src/server/sign-in/sign-in.ts';
import { readOrMakeKeyFile } from '../../src/store/key-file.ts';
import { startPostgres, type PostgresServer } from '../store/postgres-server.ts';
import { smallContent } from '../support/a-desk.ts';
import { npmStart } from '../support/npm-start.ts';
import { demoNameOf, signInAs } from '../support/sign-in-as.ts';
import { tempDir } from '../support/temp-dir.ts';

const WORDS = 'It feels tight since this morning';

let postgres: PostgresServer;
beforeAll(async () => {
  postgres = await startPostgres();
});
afterAll(() => postgres.stop());

/** The staff of the demo may sign in; as an administrator would have it before the first day. */
async function aPlace() {
  const folder = tempDir();
  const content = loadContent(smallContent(folder));
  if (!content.ok) throw new Error('The content does not load');
  const databaseUrl = await postgres.newDatabase();
  const dataDir = join(folder, 'data');
  const store = await openConfiguredStore({ dataDir, databaseUrl });
  if (!store.ok) throw new Error(store.fault.message);
  await store.value.close();
  const keys = readOrMakeKeyFile(keyFileIn(dataDir));
  if (!keys.ok) throw new Error(keys.fault);
  const { practice, place } = content.value;
  const signIn = await openSignIn({
    config: { ...USUAL_CONFIG, dataDir, databaseUrl },
    url: 'http://127.0.0.1',
    practiceKey: keys.value.practiceKey,
    frame: { practice: practice.name, emergency: place.emergency.number },
    isDemo: true,
    ...practice.signIn,
    clock: systemClock,
    writeDown: () => Promise.resolve(),
    log: pino({ level: 'silent' }),
  });
  const { password } = await seedDemoSignIns(signIn, practice.staff, dataDir);
  await signIn.close();
  return { folder, settings: { DATABASE_URL: databaseUrl }, password };
}

/** One browser, which any of the processes may answer. */
function browser(cookie: string, call: string) {
  const send = async (address: string, path: string, body: object): Promise<TurnAnswer> => {
    const post = request(address).post(path).set('X-Call-Desk', 'test').set('Cookie', cookie);
    const response = await post.send(body);
    if (response.status !== 200) throw new Error(`${String(response.status)} ${response.text.slice(0, 200)}`);
    return turnAnswerSchema.parse(response.body);
  };
  return {
    begins: (address: string) =>
      send(address, '/api/calls', {
        call,
        token: newId(),
        direction: 'patient-rang',
        callerNumber: null,
        chosen: null,
      }),
    says: (address: string, input: object) =>
      send(address, `/api/calls/${call}/turns`, { token: newId(), input }),
  };
}

test('a call that two processes take in turns stands in the record that a third one reads', async () => {
  const { folder, settings, password } = await aPlace();
  const call = newId();
  const seqs: number[] = [];
  let cookie = '';
  const first = await npmStart(folder, settings, async (one) => {
    await npmStart(folder, settings, async (other) => {
      cookie = await signInAs(one, { name: demoNameOf('nurse'), password });
      const nurse = browser(cookie, call);
      seqs.push((await nurse.begins(one)).view.seq);
      const opening = { kind: 'opening', text: WORDS };
      seqs.push((await nurse.says(other, opening)).view.seq);
      const danger = { kind: 'volunteer', findings: { fit: 'yes' }, words: null, correction: null };
      seqs.push((await nurse.says(other, danger)).view.seq);
      // This process has the call in mind as it was before both.
      const told = await nurse.says(one, { kind: 'tell' });
      seqs.push(told.view.seq);
      expect(told.view).toMatchObject({
        opening: WORDS,
        told: { outcome: 'urgent-escalation', emergency: true },
      });
    });
  });
  expect(first.code).toBe(0);
  expect(seqs).toEqual([...new Set(seqs)].toSorted((a, b) => a - b));
  let record = '';
  await npmStart(folder, settings, async (again) => {
    const response = await request(again).get(`/api/calls/${call}/record`).set('Cookie', cookie);
    record = JSON.stringify(recordAnswerSchema.parse(response.body));
  });
  expect(record).toContain(WORDS);
  expect(record).toContain('emergency');
});
