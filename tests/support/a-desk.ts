/** A desk that really runs: the whole server on SQLite in a folder of its own, a clock that stands still, a free port. */
import { cpSync } from 'node:fs';
import { join } from 'node:path';
import { pino } from 'pino';
import { showDiagnostic } from '../../src/content/diagnostic.ts';
import type { Role } from '../../src/people/staff.ts';
import { USUAL_CONFIG } from '../../src/server/config.ts';
import { start } from '../../src/server/start.ts';
import { fixedClock, type FixedClock } from './fixed-clock.ts';
import { projectFolder } from './project-files.ts';
import { demoNameOf, signInAs } from './sign-in-as.ts';
import { makeTempDir } from './temp-dir.ts';

/** Tuesday 10 March 2026, 10:00 in London: the clinic is open. */
export const DESK_NOW = Date.parse('2026-03-10T10:00:00Z');

export interface Desk {
  /** `http://127.0.0.1:PORT`, without a slash at the end. */
  readonly address: string;
  readonly clock: FixedClock;
  /** The `Cookie` header of somebody of the demo who has signed in with the desk's role: a nurse, unless `as` says otherwise. */
  readonly cookie: () => Promise<string>;
  /** The same desk, asked by somebody with another role. */
  readonly as: (role: Role) => Desk;
  /** The password of every sign-in of the demo. */
  readonly password: string;
  /** The PIN of its clinicians. */
  readonly pin: string;
  /** Stops the server; the record stays in its folder. */
  readonly stop: () => Promise<void>;
  /** Starts the server again on the same record. */
  readonly again: () => Promise<Desk>;
  /** Stops the server and removes the record. */
  readonly remove: () => Promise<void>;
}

interface Place {
  /** 0 lets the system choose one. */
  readonly port: number;
  readonly flows: string;
  readonly dataDir: string;
  readonly clock: FixedClock;
  readonly removeFolder: () => void;
}

/** On the flows of this repository, or on the small ones of the rules' tests, with the demo practice and its people. */
export async function aDesk(which: 'real' | 'small'): Promise<Desk> {
  const folder = makeTempDir();
  const flows = which === 'real' ? join(projectFolder, 'flows') : smallContent(folder.path);
  const dataDir = join(folder.path, 'data');
  return running({ port: 0, flows, dataDir, clock: fixedClock(DESK_NOW), removeFolder: folder.remove });
}

/** The small flows with the practice, the country and the people of the demo. */
export function smallContent(folder: string): string {
  const flows = join(folder, 'flows');
  cpSync(join(projectFolder, 'tests', 'fixtures', 'flows-rules'), flows, { recursive: true });
  for (const part of [
    'approvals.yaml',
    'hazards.yaml',
    'practice.yaml',
    'places',
    'demo',
    'words/line.yaml',
    'words/messages.yaml',
  ]) {
    cpSync(join(projectFolder, 'flows', part), join(flows, part), { recursive: true });
  }
  return flows;
}

async function running(place: Place): Promise<Desk> {
  const { flows, dataDir, clock, removeFolder } = place;
  const config = { ...USUAL_CONFIG, port: place.port, dataDir };
  const started = await start({ config, flows, clock, log: pino({ level: 'silent' }) });
  if (!started.ok) {
    const { fault } = started;
    throw new Error(
      fault.content === null ? fault.fault.message : fault.content.map(showDiagnostic).join('\n'),
    );
  }
  const { close, demo } = started.value;
  const address = started.value.address.replace(/\/$/, '');
  const password = demo?.password ?? '';
  const cookies = new Map<Role, Promise<string>>();
  const cookieOf = (role: Role): Promise<string> => {
    const cookie = cookies.get(role) ?? signInAs(address, { name: demoNameOf(role), password });
    cookies.set(role, cookie);
    return cookie;
  };
  let stopping: Promise<void> | null = null;
  const stop = (): Promise<void> => (stopping ??= close());
  const asked = (role: Role): Desk => ({
    address,
    clock,
    password,
    pin: demo?.pin ?? '',
    cookie: () => cookieOf(role),
    as: asked,
    stop,
    again: async () => {
      await stop();
      // On the same port, so that an open page finds it again.
      return running({ ...place, port: Number(new URL(address).port) });
    },
    remove: async () => {
      await stop();
      removeFolder();
    },
  });
  return asked('nurse');
}
