/** A page is late at worst when a process is killed, and never sent twice: real processes, real kills, a real file. */
import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { pino } from 'pino';
import { expect, onTestFinished, test } from 'vitest';
import type { CallId } from '../../src/basics/ids.ts';
import { sendDue } from '../../src/server/run-due.ts';
import { openSqlite } from '../../src/store/sqlite.ts';
import { valueOf } from '../contract/a-turn.ts';
import { KEYS } from '../contract/store-under-test.ts';
import { aPractice, NOW } from '../support/a-practice.ts';
import { aSender } from '../support/a-sender.ts';
import { fixedClock } from '../support/fixed-clock.ts';
import { providerStandIn, type StandIn } from '../support/provider-stand-in.ts';
import { tempDir } from '../support/temp-dir.ts';

const MINUTE = 60_000;
const FIRST_ON_CALL = '+447700900700';

interface Process {
  readonly child: ChildProcess;
  /** The first line that it prints; empty when it ends without one. */
  readonly line: Promise<string>;
}

function run(...args: readonly string[]): Process {
  const script = fileURLToPath(new URL('due-process.ts', import.meta.url));
  const child = spawn(process.execPath, ['--import', 'tsx', script, ...args], {
    stdio: ['pipe', 'pipe', 'inherit'],
  });
  onTestFinished(() => void child.kill('SIGKILL'));
  const lines = createInterface({ input: child.stdout });
  const line = Promise.race([
    once(lines, 'line').then(([text]) => String(text)),
    once(child, 'exit').then(() => ''),
  ]);
  return { child, line };
}

async function standIn(): Promise<StandIn> {
  const provider = await providerStandIn();
  onTestFinished(() => provider.stop());
  return provider;
}

async function killed({ child }: Process): Promise<void> {
  const exit = once(child, 'exit');
  child.kill('SIGKILL');
  await exit;
}

/** This process as another one on the same file. */
async function sendHere(file: string, provider: StandIn, now: number): Promise<void> {
  const store = await openSqlite({ file, keys: KEYS });
  const practice = aPractice({ store, clock: fixedClock(now) });
  await sendDue({ due: aSender(practice, provider.url, 'here'), log: pino({ level: 'silent' }) });
  await store.close();
}

/** What the record says came of the pages. */
async function attempts(file: string, call: CallId): Promise<readonly string[]> {
  const store = await openSqlite({ file, keys: KEYS });
  const events = valueOf(await store.calls.events(call));
  expect(await store.chain.firstBrokenLink(() => undefined)).toEqual({ ok: true, value: null });
  await store.close();
  return events.flatMap(({ type, open }) => {
    const came = typeof open === 'object' && open !== null && 'came' in open ? open['came'] : null;
    return type === 'attempted' && typeof came === 'string' ? [came] : [];
  });
}

test('killed between the commit of the turn and the page, the page goes out when a process runs again', async () => {
  const file = join(tempDir(), 'calls.sqlite');
  const provider = await standIn();
  const ringing = run('ring', file, String(NOW));
  const call = (await ringing.line) as CallId;
  await killed(ringing);
  expect(provider.asked).toEqual([]);
  await sendHere(file, provider, NOW);
  expect(provider.asked.map(({ to }) => to)).toEqual([FIRST_ON_CALL]);
  expect(await attempts(file, call)).toEqual(['sent']);
}, 60_000);

test('killed between the page and its result, it is asked once more under the same key and counts once', async () => {
  const file = join(tempDir(), 'calls.sqlite');
  const provider = await standIn();
  const store = await openSqlite({ file, keys: KEYS });
  const ring = await aPractice({ store, clock: fixedClock(NOW) }).ring();
  await ring.volunteers({ fit: 'yes' });
  await store.close();
  const first = run('send', file, String(NOW), provider.url, 'a');
  // The provider has it and the process will never hear so.
  provider.whenAsked(() => void first.child.kill('SIGKILL'));
  expect(await first.line).toBe('');
  expect(provider.asked).toHaveLength(1);
  expect(await attempts(file, ring.call)).toEqual([]);
  provider.whenAsked(() => undefined);
  // What was claimed is left alone for two minutes, longer than any sending takes.
  await sendHere(file, provider, NOW + MINUTE);
  expect(provider.asked).toHaveLength(1);
  await sendHere(file, provider, NOW + 2 * MINUTE);
  expect(provider.asked).toHaveLength(2);
  expect(provider.done().map(({ to }) => to)).toEqual([FIRST_ON_CALL]);
  expect(await attempts(file, ring.call)).toEqual(['sent']);
}, 60_000);

test('two processes on one file send 200 pages, each once', async () => {
  const file = join(tempDir(), 'calls.sqlite');
  const provider = await standIn();
  const store = await openSqlite({ file, keys: KEYS });
  const practice = aPractice({ store, clock: fixedClock(NOW) });
  const rings = await Promise.all(Array.from({ length: 200 }, () => practice.ring({ operated: null })));
  await Promise.all(rings.map((ring) => ring.volunteers({ fit: 'yes' })));
  await store.close();
  const other = run('send', file, String(NOW), provider.url, 'a');
  // Both are at work at once: this one begins when the first page of the other one has come.
  await new Promise<void>((resolve) => provider.whenAsked(() => resolve()));
  await Promise.all([sendHere(file, provider, NOW), other.line]);
  expect(await other.line).toBe('sent');
  expect(provider.asked).toHaveLength(200);
  expect(new Set(provider.asked.map(({ message }) => message)).size).toBe(200);
}, 60_000);
