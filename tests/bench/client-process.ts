/** The load, in a process of its own: 64 connections, each playing one call after the other, every turn timed. */
import { loadContent } from '../../src/server/content.ts';
import {
  bareCall,
  begunCall,
  reassuringAnswers,
  type Answers,
  type Chosen,
  type PlayedCall,
  type ServerKind,
} from './calls.ts';
import { openConnection, type Connection } from './http-connection.ts';
import { clockMillis, quantile } from './stopwatch.ts';

export interface LoadRequest {
  readonly kind: ServerKind;
  readonly port: number;
  readonly chosen: readonly Chosen[];
  readonly cookie: string;
  readonly millis: number;
  /** Calls that are begun before the time is taken. */
  readonly begun: number;
}

export interface LoadResult {
  readonly turns: number;
  readonly perSecond: number;
  readonly p50: number;
  readonly p99: number;
}

const CONNECTIONS = 64;

process.on('message', (request: LoadRequest) => {
  void run(request).then((result) => process.send?.(result));
});

const answers = answersOfFlows();
let begun = 0;

function answersOfFlows(): Answers {
  const content = loadContent('flows');
  if (!content.ok) throw new Error('The flows do not load.');
  return reassuringAnswers(content.value.library);
}

async function run(request: LoadRequest): Promise<LoadResult> {
  const connections = await Promise.all(
    Array.from({ length: CONNECTIONS }, () => openConnection(request.port, request.cookie)),
  );
  const pool = await beginCalls(request, connections);
  const times: number[] = [];
  const start = clockMillis();
  const end = start + request.millis;
  await Promise.all(connections.map((connection) => playUntil(end, { request, connection, pool, times })));
  const took = (clockMillis() - start) / 1000;
  for (const connection of connections) connection.close();
  return {
    turns: times.length,
    perSecond: times.length / took,
    p50: quantile(times, 0.5),
    p99: quantile(times, 0.99),
  };
}

async function beginCalls(request: LoadRequest, connections: readonly Connection[]): Promise<PlayedCall[]> {
  const pool: PlayedCall[] = [];
  const each = Math.ceil(request.begun / connections.length);
  await Promise.all(
    connections.map(async (connection, at) => {
      for (let n = 0; n < each; n += 1) pool.push(await begin(request, connection, at + n));
    }),
  );
  return pool;
}

async function begin({ kind, chosen }: LoadRequest, connection: Connection, n: number): Promise<PlayedCall> {
  if (kind === 'bare') return bareCall(answers);
  begun += 1;
  return await begunCall(connection, { kind, chosen: chosen[begun % chosen.length] ?? null, answers, n });
}

interface Playing {
  readonly request: LoadRequest;
  readonly connection: Connection;
  readonly pool: PlayedCall[];
  readonly times: number[];
}

/** When the calls that were begun before run out, the beginning of the next is in the rate's time but is no turn. */
async function playUntil(end: number, { request, connection, pool, times }: Playing): Promise<void> {
  let call = pool.pop();
  for (let n = 0; ; n += 1) {
    const start = clockMillis();
    if (start >= end) return;
    call ??= pool.pop() ?? (await begin(request, connection, n));
    const before = clockMillis();
    if (await call.next(connection)) times.push(clockMillis() - before);
    else call = undefined;
  }
}
