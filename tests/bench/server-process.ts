/**
 * One server under load, in a process of its own: `bare` parses JSON and makes one durable insert, `turn` runs a turn
 * behind a bare route, `desk` is the whole application. All three write to SQLite with WAL and synchronous FULL.
 */
import Database from 'better-sqlite3';
import express, { type Express } from 'express';
import { once } from 'node:events';
import { createServer } from 'node:http';
import { join } from 'node:path';
import { destination, pino } from 'pino';
import { newId, type CallId, type OperationId, type PatientId } from '../../src/basics/ids.ts';
import { systemClock } from '../../src/basics/system-clock.ts';
import { inputSchema } from '../../src/call/input.ts';
import { turn } from '../../src/call/turn.ts';
import { demoPeople } from '../../src/people/demo.ts';
import { app } from '../../src/server/app.ts';
import { turnDeps } from '../../src/server/compose.ts';
import { loadContent, type Content } from '../../src/server/content.ts';
import { reachDeps } from '../../src/server/due-deps.ts';
import { lineDeps } from '../../src/server/line-deps.ts';
import { speech } from '../../src/server/trial-phone/speech.ts';
import { deskDeps } from '../../src/server/start.ts';
import type { PeopleStore } from '../../src/people/people-store.ts';
import { openSqlite } from '../../src/store/sqlite.ts';
import { newKey } from '../../src/store/sealing.ts';
import { aSignIn } from '../support/a-sign-in.ts';
import type { Chosen, ServerKind } from './calls.ts';

export interface Listening {
  readonly port: number;
  /** Whom calls are about; empty where nobody is on record. */
  readonly chosen: readonly Chosen[];
  /** Of a nurse who has signed in; empty where nobody does. */
  readonly cookie: string;
}

const [, , kind = '', folder = ''] = process.argv;
/** Enough that a patient is hardly rung about twice. */
const PATIENTS = 2_000;
const FILES = { shell: '', entry: '', scripts: new Map(), style: '' };

function content(): Content {
  const loaded = loadContent('flows');
  if (!loaded.ok) throw new Error('The flows do not load.');
  return loaded.value;
}

interface Served {
  readonly express: Express;
  readonly chosen: readonly Chosen[];
  readonly cookie: string;
}

async function serverOf(which: ServerKind): Promise<Served> {
  switch (which) {
    case 'bare':
      return { express: bare(), chosen: [], cookie: '' };
    case 'turn':
      return { express: await behindBareRoute(), chosen: [], cookie: '' };
    case 'desk':
      return await wholeDesk();
  }
}

function bare(): Express {
  const db = new Database(join(folder, 'bare.sqlite'));
  db.pragma('journal_mode = WAL');
  db.pragma('synchronous = FULL');
  db.exec('create table rows (id integer primary key, call text not null, body text not null)');
  const insert = db.prepare('insert into rows (call, body) values (?, ?)');
  return jsonApp().post('/api/calls/:id/turns', (request, response) => {
    const { lastInsertRowid } = insert.run(request.params.id, JSON.stringify(request.body));
    response.json({ row: Number(lastInsertRowid) });
  });
}

async function behindBareRoute(): Promise<Express> {
  const deps = turnDeps(content(), await store(), systemClock);
  return jsonApp().post('/api/calls/:id/turns', async (request, response) => {
    const { token } = request.body;
    const input = inputSchema.parse(request.body.input);
    const call = request.params.id as CallId;
    const done = await turn(deps, { call, token, by: 'user:demo-nurse', input });
    if (done.ok) response.json({ reply: done.value.reply });
    else response.status(500).json(done.fault);
  });
}

async function wholeDesk(): Promise<Served> {
  const loaded = content();
  const kept = await store();
  const chosen = await savePatients(loaded, kept.people);
  const log = pino({ level: 'info', base: null }, destination({ dest: '/dev/null', sync: true }));
  const { doors, cookie } = await aSignIn(loaded, folder);
  const desk = deskDeps(loaded, kept, systemClock);
  const line = lineDeps(loaded, desk, { providerToken: 'test', publicUrl: 'http://127.0.0.1', log });
  return {
    express: app({
      desk,
      line,
      reach: reachDeps(loaded, line, kept),
      trial: { speech: speech(), address: () => '' },
      files: FILES,
      ...doors,
      log,
    }),
    chosen,
    cookie: await cookie('nurse'),
  };
}

function jsonApp(): Express {
  const server = express();
  server.disable('x-powered-by');
  server.disable('etag');
  return server.use(express.json());
}

function store() {
  return openSqlite({ file: join(folder, 'calls.sqlite'), keys: { practiceKey: newKey() } });
}

/** The patient of the demo with a breast lift alone, many times over. */
async function savePatients({ demo, practice }: Content, people: PeopleStore): Promise<readonly Chosen[]> {
  const invented = demoPeople(demo, { now: systemClock.now(), zone: practice.zone });
  if (!invented.ok) throw new Error(invented.fault.message);
  const { patients, operations } = invented.value;
  const operation = operations.find(({ procedures }) => procedures.join('+') === 'breast-lift');
  const patient = patients.find(({ id }) => id === operation?.patientId);
  if (operation === undefined || patient === undefined) throw new Error('The demo has no breast lift.');
  return await Promise.all(
    Array.from({ length: PATIENTS }, async () => {
      const ids = { patient: newId<PatientId>(), operation: newId<OperationId>() };
      await people.savePatient({ ...patient, id: ids.patient });
      await people.saveOperation({ ...operation, id: ids.operation, patientId: ids.patient });
      return ids;
    }),
  );
}

const { express: served, chosen, cookie } = await serverOf(kind as ServerKind);
const server = createServer(served);
// A connection may wait for the others between beginning its calls and the timed part.
server.keepAliveTimeout = 0;
server.listen(0, '127.0.0.1');
await once(server, 'listening');
const address = server.address();
const port = typeof address === 'object' && address !== null ? address.port : 0;
process.send?.({ port, chosen, cookie } satisfies Listening);
process.on('message', () => process.exit(0));
