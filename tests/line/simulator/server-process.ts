/** The real server as a process of its own, in a folder with its own flows and data; can be killed and started again. */
import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { cpSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { freePort } from '../../support/free-port.ts';
import { projectFolder } from '../../support/project-files.ts';
import { makeTempDir } from '../../support/temp-dir.ts';
import { newSid, type Site } from './provider.ts';

export interface Server {
  readonly site: Site;
  readonly dataDir: string;
  readonly start: () => Promise<void>;
  /** As a power cut does: nothing is told, nothing is finished. */
  readonly kill: () => Promise<void>;
  /** What it complained of, as one text. */
  readonly complained: () => string;
  /** Null while it is not running. */
  readonly pid: () => number | null;
  readonly remove: () => Promise<void>;
}

export interface ServerChanges {
  /** The text of practice.yaml, changed. */
  readonly practice?: (text: string) => string;
}

/** As a module loader in the same process, so that a kill reaches the server itself and no wrapper. */
const TSX = `--import=${pathToFileURL(join(projectFolder, 'node_modules', 'tsx', 'dist', 'loader.mjs')).href}`;
const PUBLIC_URL = 'https://line.tern-quay.example';

/** Made, not started: its data folder can be filled first. */
export async function aServer({ practice = (text) => text }: ServerChanges = {}): Promise<Server> {
  const { path, remove } = makeTempDir();
  cpSync(join(projectFolder, 'flows'), join(path, 'flows'), { recursive: true });
  const settings = join(path, 'flows', 'practice.yaml');
  writeFileSync(settings, practice(readFileSync(settings, 'utf8')));
  const token = newSid('AC');
  const environment = {
    ...process.env,
    DATA_DIR: join(path, 'data'),
    DATABASE_URL: '',
    TWILIO_AUTH_TOKEN: token,
    PUBLIC_URL,
  };
  const site = { base: '', publicUrl: PUBLIC_URL, token };
  let child: ChildProcess | null = null;
  let complained = '';
  // A new port each time: another program may have taken the last one meanwhile.
  const start = async (): Promise<void> => {
    const port = String(await freePort());
    site.base = `http://127.0.0.1:${port}`;
    const started = spawn(process.execPath, [TSX, join(projectFolder, startScript())], {
      cwd: path,
      env: { ...environment, PORT: port },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    child = started;
    started.stderr.on('data', (text: Buffer) => (complained += text.toString()));
    await untilSaid(started, 'clinical judgement', () => complained);
  };
  const end = async (signal: 'SIGKILL' | 'SIGTERM'): Promise<void> => {
    if (child === null || child.exitCode !== null || child.signalCode !== null) return;
    const gone = once(child, 'close');
    child.kill(signal);
    await gone;
  };
  return {
    site,
    dataDir: join(path, 'data'),
    start,
    kill: () => end('SIGKILL'),
    complained: () => complained,
    pid: () => child?.pid ?? null,
    remove: async () => {
      await end('SIGTERM');
      remove();
    },
  };
}

/** What `npm start` runs. */
function startScript(): string {
  const { scripts } = JSON.parse(readFileSync(join(projectFolder, 'package.json'), 'utf8'));
  return String(scripts.start).split(' ')[1] ?? '';
}

async function untilSaid(child: ChildProcess, words: string, why: () => string): Promise<void> {
  let said = '';
  await new Promise<void>((resolve, reject) => {
    child.stdout?.on('data', (text: Buffer) => {
      said += text.toString();
      if (said.includes(words)) resolve();
    });
    child.once('close', (code) => {
      reject(new Error(`The server ended with ${String(code)}: ${why().slice(-600)}`));
    });
  });
}
