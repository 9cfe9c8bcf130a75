/** A whole turn over HTTP at 64 connections beside a bare route with one durable insert, in alternating rounds. */
import { fork, type ChildProcess } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { tmpdir } from 'node:os';
import type { ServerKind } from './calls.ts';
import type { LoadRequest, LoadResult } from './client-process.ts';
import type { Listening } from './server-process.ts';
import { median } from './stopwatch.ts';

export type Measured = Readonly<Record<ServerKind, LoadResult>>;

export interface HttpBench {
  readonly rounds: number;
  readonly millis: number;
}

const KINDS: readonly ServerKind[] = ['bare', 'turn', 'desk'];
const BEGUN_AT_MOST = 1_500;

/** Every round measures each server once, so that what else the machine does falls on all alike; medians of the rounds. */
export async function turnOverHttp({ rounds, millis }: HttpBench): Promise<Measured> {
  const folder = mkdtempSync(join(tmpdir(), 'call-desk-bench-'));
  const client = child('client-process.ts', []);
  const servers = KINDS.map((kind) => ({
    kind,
    process: child('server-process.ts', [kind, mkdtempSync(join(folder, 'x-'))]),
  }));
  try {
    const listening = await Promise.all(
      servers.map(async ({ kind, process }) => ({ kind, ...(await heard<Listening>(process)) })),
    );
    const load = (kind: ServerKind, forMillis: number): Promise<LoadResult> => {
      const server = listening.find((one) => one.kind === kind);
      if (server === undefined) throw new Error(`No server ${kind}.`);
      const begun = kind === 'bare' ? 64 : Math.min(BEGUN_AT_MOST, forMillis / 4);
      const { port, chosen, cookie } = server;
      return asked(client, { kind, port, chosen, cookie, millis: forMillis, begun });
    };
    for (const kind of KINDS) await load(kind, millis / 2);
    const results: Record<ServerKind, LoadResult[]> = { bare: [], turn: [], desk: [] };
    for (let round = 0; round < rounds; round += 1) {
      for (const kind of KINDS) results[kind].push(await load(kind, millis));
    }
    return { bare: middle(results.bare), turn: middle(results.turn), desk: middle(results.desk) };
  } finally {
    for (const { process } of servers) process.kill();
    client.kill();
    rmSync(folder, { recursive: true, force: true });
  }
}

function child(file: string, args: readonly string[]): ChildProcess {
  return fork(join(import.meta.dirname, file), args);
}

async function asked(client: ChildProcess, request: LoadRequest): Promise<LoadResult> {
  const answer = heard<LoadResult>(client);
  client.send(request);
  return await answer;
}

function heard<TMessage>(process: ChildProcess): Promise<TMessage> {
  return new Promise((resolve, reject) => {
    const onMessage = (message: TMessage): void => {
      process.off('exit', onExit);
      resolve(message);
    };
    const onExit = (): void => {
      process.off('message', onMessage);
      reject(new Error('a process of the benchmark ended'));
    };
    process.once('message', onMessage).once('exit', onExit);
  });
}

function middle(results: readonly LoadResult[]): LoadResult {
  const of = (name: keyof LoadResult): number => median(results.map((one) => one[name]));
  return { turns: of('turns'), perSecond: of('perSecond'), p50: of('p50'), p99: of('p99') };
}
