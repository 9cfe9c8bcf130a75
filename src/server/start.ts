/** Starts a practice: content, store, the demo's people, the page, the listener. Nothing is left half started. */
import { once } from 'node:events';
import { createServer, type RequestListener, type Server } from 'node:http';
import { join } from 'node:path';
import type { Logger } from 'pino';
import type { Clock } from '../basics/clock.ts';
import { fault, type Fault } from '../basics/fault.ts';
import { noticesHere, type Notices } from '../basics/notices.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import type { Diagnostic } from '../content/diagnostic.ts';
import type { DeskDeps } from '../desk/deps.ts';
import { live } from '../desk/live.ts';
import { postgresNotices } from '../store/postgres-notices.ts';
import { noticing } from './noticing.ts';
import { newKey } from '../store/sealing.ts';
import type { Store } from '../store/store.ts';
import { expiringSoon } from './expiring.ts';
import { app } from './app.ts';
import { approvalsOf } from './approvals-file.ts';
import { buildPage } from './build-page.ts';
import { forgettingCalls, turnDeps, type Stores } from './compose.ts';
import { dueDeps, reachDeps } from './due-deps.ts';
import type { Config } from './config.ts';
import { lineDeps } from './line-deps.ts';
import { loadContent, type Content } from './content.ts';
import type { Site } from './guards.ts';
import { openConfiguredStore } from './open-store.ts';
import type { PageFiles } from './pages.ts';
import { runDue, wakingStore } from './run-due.ts';
import { seedDemo } from './seed-demo.ts';
import { writingDown } from './sign-in/acts.ts';
import type { DemoSignIns } from './sign-in/demo-sign-ins.ts';
import { openConfiguredSignIn } from './open-sign-in.ts';
import { speech } from './trial-phone/speech.ts';

export interface StartDeps {
  readonly config: Config;
  readonly flows: string;
  readonly clock: Clock;
  readonly log: Logger;
}

export interface Running {
  readonly address: string;
  readonly practice: Content['practice'];
  /** What is not approved in a live practice, or soon will not be. */
  readonly unsigned: readonly string[];
  readonly patients: number;
  /** Null in a real practice. */
  readonly demo: DemoSignIns | null;
  /** The link that makes the first administrator; null when there is one. */
  readonly setUp: string | null;
  /** Browsers reach it by HTTPS only. */
  readonly isSecure: boolean;
  /** It listens beyond this machine. */
  readonly isOpen: boolean;
  readonly close: () => Promise<void>;
}

/** Every fault of the content, or the one thing that did not start. */
export type StartFault =
  { readonly content: readonly Diagnostic[] } | { readonly content: null; readonly fault: Fault };

export async function start(deps: StartDeps): Promise<Result<Running, StartFault>> {
  const content = loadContent(deps.flows);
  if (!content.ok) return failed({ content: content.fault });
  const files = await page();
  if (!files.ok) return failed({ content: null, fault: files.fault });
  const store = await openConfiguredStore(deps.config);
  if (!store.ok) return failed({ content: null, fault: store.fault });
  const approvals = approvalsOf(join(deps.flows, 'approvals.yaml'), content.value.approvals(), (why) => {
    deps.log.error(why);
  });
  const running = await open(deps, {
    content: { ...content.value, approvals },
    files: files.value,
    store: store.value,
  });
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
  let answer: RequestListener = (_request, response) => response.writeHead(503).end();
  const server = createServer((request, response) => answer(request, response));
  const port = await listen(server, config);
  if (port === null) {
    return failed(
      fault(
        'bad-request',
        'HOST and PORT cannot be listened on; an address of this machine and a free port are accepted.',
      ),
    );
  }
  const address = `http://${config.host.includes(':') ? `[${config.host}]` : config.host}:${port}`;
  const site: Site = { url: config.publicUrl ?? address, trustedProxies: config.trustedProxies };
  const signIn = await openConfiguredSignIn(content, {
    config,
    site,
    log,
    writeDown: writingDown(store.audit, clock),
  });
  if (!signIn.ok) {
    await closeServer(server);
    return signIn;
  }
  const { opened, demo, setUp } = signIn.value;
  const shared = config.databaseUrl === null ? null : postgresNotices(config.databaseUrl);
  let wake: () => void = () => undefined;
  const calls = wakingStore(store.calls, () => wake());
  const desk = deskDeps(content, { ...store, calls }, clock, shared ?? noticesHere());
  const voice = speech();
  const ownAddress = EVERYWHERE.includes(config.host) ? `http://127.0.0.1:${port}` : address;
  const providerToken = config.providerToken ?? newKey().toString('hex');
  const line = lineDeps(content, desk, { providerToken, publicUrl: site.url, log });
  answer = app({
    desk,
    line,
    reach: reachDeps(content, line, store),
    trial: { speech: voice, address: () => ownAddress },
    files,
    signIn: opened,
    site,
    needsSecondFactor: content.practice.signIn.secondFactor === 'required',
    log,
  });
  const sends = dueDeps(content, { config, turn: desk.turn, store, publicUrl: site.url });
  const due = runDue({ chain: store.chain, due: sends, clock, log });
  wake = due.wake;
  return ok({
    address: `${address}/`,
    practice: content.practice,
    unsigned: expiringSoon(content, clock),
    patients: patients.value,
    demo,
    setUp,
    isSecure: opened.isSecure,
    isOpen: !LOOPBACK.includes(config.host),
    close: async () => {
      desk.live.stop();
      await closeServer(server);
      await voice.stop();
      await due.stop();
      await opened.close();
      await shared?.close();
      await store.close();
    },
  });
}

/** Listens on all addresses; none of them is one to call. */
const EVERYWHERE: readonly string[] = ['0.0.0.0', '::'];
const LOOPBACK: readonly string[] = ['127.0.0.1', '::1', 'localhost'];

/** `notices` reach the other server processes too, where there are any. */
export function deskDeps(
  content: Content,
  store: Stores,
  clock: Clock,
  notices: Notices = noticesHere(),
): DeskDeps {
  const { procedures } = content.library.files;
  const calls = noticing(store.calls, notices);
  const turn = turnDeps(content, { ...store, calls }, clock);
  return {
    turn,
    people: forgettingCalls(store.people, turn.loaded),
    audit: store.audit,
    outbox: store.outbox,
    callAudits: store.callAudits,
    live: live(notices),
    practice: content.practice,
    place: content.place,
    procedureTitle: (id) => procedures.get(id)?.data.title ?? plainName(id),
  };
}

function plainName(id: string): string {
  const text = id.replaceAll('-', ' ');
  return `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;
}

/** The port that is listened on, or null when it cannot be had. */
async function listen(server: Server, { host, port }: Config): Promise<number | null> {
  try {
    server.listen(port, host);
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
