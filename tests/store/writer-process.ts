/** Runs `crash-writer.ts` as a process of its own, and reads what it acknowledged. */
import { execFileSync, spawn } from 'node:child_process';
import type { ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { onTestFinished } from 'vitest';
import type { Acknowledged } from './crash-writer.ts';

// Part of util-linux: sets the limits that setrlimit (POSIX) sets, of a process to start or of one that runs.
const LIMITER = 'prlimit';

export interface WriterProcess {
  readonly acknowledged: readonly Acknowledged[];
  /** How often the store was down. */
  readonly down: () => number;
  /** Resolves as soon as it holds, looked at after every line that the writer prints. */
  readonly until: (holds: () => boolean) => Promise<void>;
  /** After `store-down`: files may grow again, go on. */
  readonly goAhead: () => void;
  /** SIGKILL, and everything it printed before is read. */
  readonly kill: () => Promise<void>;
}

export interface WriterPlace {
  readonly file: string;
  /** No file may grow beyond so many bytes. */
  readonly largestFile?: number;
}

export function startWriter({ file, largestFile }: WriterPlace): WriterProcess {
  const script = fileURLToPath(new URL('crash-writer.ts', import.meta.url));
  const limit = largestFile === undefined ? [] : [LIMITER, `--fsize=${String(largestFile)}:unlimited`];
  const [command, ...rest] = [...limit, process.execPath, '--import', 'tsx', script, file];
  const child = spawn(command, rest, { stdio: ['pipe', 'pipe', 'inherit'] });
  onTestFinished(() => void child.kill('SIGKILL'));
  return reading(child, { acknowledged: [], down: 0 });
}

interface Heard {
  readonly acknowledged: Acknowledged[];
  down: number;
}

function reading(child: ChildProcess, heard: Heard): WriterProcess {
  if (child.stdout === null) throw new Error('The writer did not start.');
  const lines = createInterface({ input: child.stdout });
  const ended = once(lines, 'close');
  lines.on('line', (line) => hear(heard, line));
  return {
    acknowledged: heard.acknowledged,
    down: () => heard.down,
    until: (holds) =>
      new Promise((resolve, reject) => {
        lines.on('line', () => holds() && resolve());
        lines.on('close', () => reject(new Error('The writer ended by itself.')));
      }),
    goAhead: () => {
      execFileSync(LIMITER, ['--pid', String(child.pid), '--fsize=unlimited']);
      child.stdin?.write('go\n');
    },
    kill: async () => {
      child.kill('SIGKILL');
      await ended;
    },
  };
}

// A line that the kill cut short was not acknowledged.
function hear(heard: Heard, line: string): void {
  if (line === 'store-down') heard.down += 1;
  else if (line.endsWith('}')) heard.acknowledged.push(JSON.parse(line) as Acknowledged);
}
