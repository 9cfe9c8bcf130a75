/** From `npm start` to the first page answered, once installed and built. */
import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { clockMillis, median } from './stopwatch.ts';

/** Seconds; the first start builds the page and saves the demo's people, and does not count. */
export async function startUpSeconds(times: number): Promise<number> {
  const folder = mkdtempSync(join(tmpdir(), 'call-desk-bench-'));
  try {
    await secondsToFirstPage(folder);
    const seconds: number[] = [];
    for (let n = 0; n < times; n += 1) seconds.push(await secondsToFirstPage(folder));
    return median(seconds);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function secondsToFirstPage(folder: string): Promise<number> {
  const start = clockMillis();
  // A group of its own, so that what npm starts is stopped with it.
  const program = spawn('env', ['PORT=0', `DATA_DIR=${folder}`, 'npm', 'start'], {
    stdio: ['ignore', 'pipe', 'ignore'],
    detached: true,
  });
  const ended = once(program, 'exit');
  try {
    const page = await fetch(await addressOf(program));
    if (!page.ok) throw new Error(`The first page was answered with ${page.status}.`);
    await page.text();
    return (clockMillis() - start) / 1000;
  } finally {
    if (program.pid !== undefined && program.exitCode === null) process.kill(-program.pid, 'SIGTERM');
    await ended;
  }
}

async function addressOf({ stdout }: ChildProcess): Promise<string> {
  if (stdout === null) throw new Error('The program says nothing.');
  for await (const line of createInterface({ input: stdout })) {
    const address = /^Desk: (http\S+)/.exec(line)?.[1];
    if (address !== undefined) return address;
  }
  throw new Error('The program ended without saying where the desk is.');
}
