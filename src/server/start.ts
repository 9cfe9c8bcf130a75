/** Starts a practice: content, store, the demo's people, the page, the listener. Nothing is left half started. */
import { once } from 'node:events';
import { createServer, type Server } from 'node:http';
import type { Logger } from 'pino';
import type { Clock } from '../basics/clock.ts';
import { fault, type Fault } from '../basics/fault.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import type { Diagnostic } from '../content/diagnostic.ts';
import type { DeskDeps } from '../desk/deps.ts';
import type { Store } from '../store/store.ts';
import { app } from './app.ts';
import { buildPage } from './build-page.ts';
import { turnDeps, type Stores } from './compose.ts';
import type { Config } from './config.ts';
import { loadContent, type Content } from './content.ts';
import { openConfiguredStore } from './open-store.ts';
import type { PageFiles } from './pages.ts';
import { runDue } from './run-due.ts';
import { seedDemo } from './seed-demo.ts';

export interface StartDeps {
  readonly config: Config;
  readonly flows: string;
  readonly clock: Clock;
  readonly log: Logger;
}

export interface Running {
  readonly address: string;
  readonly practice: Content['practice'];
  readonly patients: number;
  readonly close: () => Promise<void>;
}

/** Every fault of the content, or the one thing that did not start. */
export type StartFault =
  { readonly content: readonly Diagnostic[] } | { readonly content: null; readonly fault: Fault };

/** Until sign-in exists nobody but this machine may reach the desk. */
const HOST = '127.0.0.1';

export async function start(deps: StartDeps): Promise<Result<Running, StartFault>> {
  const content = loadContent(deps.flows);
  if (!content.ok) return failed({ content: content.fault });
  const files = await page();
  if (!files.ok) return failed({ content: null, fault: files.fault });
  const store = await openConfiguredStore(deps.config);
  if (!store.ok) return failed({ content: null, fault: store.fault });
  const running = await open(deps, { content: content.value, files: files.value, store: store.value });
  if (!running.ok) {
    await store.value.close();
    return failed({ content: null, fault: running.fault });
  }
  return running;
}

async function page(): Promise<Result<PageFiles, Fault>> {
  try {
    return ok(await buildPage());
  } catch (error) {
    const why = error instanceof Error ? error.message : 'unknown';
    return failed(fault('flow-unloadable', `The page does not build: ${why}`));
  }
}

interface Parts {
  readonly content: Content;
  readonly files: PageFiles;
  readonly store: Store;
}

async function open(deps: StartDeps, { content, files, store }: Parts): Promise<Result<Running, Fault>> {
  const { config, clock, log } = deps;
  if (content.practice.mode === 'demo' && config.databaseUrl === null) {
    const seeded = await seedDemo(content, store.people, clock);
    if (!seeded.ok) return seeded;
  }
  const patients = await store.people.countPatients();
  if (!patients.ok) return failed(fault('store-down', 'The patients cannot be read.'));
  const server = createServer(app({ desk: deskDeps(content, store, clock), files, log }));
  const port = await listen(server, config.port);
  if (port === null) {
    return failed(fault('bad-request', 'PORT cannot be listened on; a port that is free is accepted.'));
  }
  const due = runDue({ chain: store.chain, clock, log });
  return ok({
    address: `http://${HOST}:${port}/`,
    practice: content.practice,
    patients: patients.value,
    close: async () => {
      await closeServer(server);
      await due.stop();
      await store.close();
    },
  });
}

export function deskDeps(content: Content, store: Stores, clock: Clock): DeskDeps {
  const { procedures } = content.library.files;
  return {
    turn: turnDeps(content, store, clock),
    people: store.people,
    practice: content.practice,
    place: content.place,
    procedureTitle: (id) => procedures.get(id)?.data.title ?? plainName(id),
    // Until sign-in exists there is one nurse.
    by: 'user:demo-nurse',
  };
}

function plainName(id: string): string {
  const text = id.replaceAll('-', ' ');
  return `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;
}

/** The port that is listened on, or null when it cannot be had. */
async function listen(server: Server, port: number): Promise<number | null> {
  try {
    server.listen(port, HOST);
    await once(server, 'listening');
    const address = server.address();
    return typeof address === 'object' && address !== null ? address.port : null;
  } catch {
    return null;
  }
}

/** Answers what is under way and takes nothing new. */
async function closeServer(server: Server): Promise<void> {
  const closed = once(server, 'close');
  server.close();
  server.closeIdleConnections();
  await closed;
}
