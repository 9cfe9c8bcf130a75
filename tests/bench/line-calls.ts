/** Scripted calls on the line, many at once, against the real server process: how long a webhook takes, and what it holds. */
import { readFileSync } from 'node:fs';
import { Call } from '../line/simulator/call.ts';
import { aServer } from '../line/simulator/server-process.ts';
import { saysAllIsWell } from '../line/simulator/well-caller.ts';
import { clockMillis, quantile } from './stopwatch.ts';

export interface LineMeasured {
  readonly calls: number;
  readonly turns: number;
  readonly failed: number;
  readonly p50: number;
  readonly p99: number;
  /** Most memory that the process ever held, in MiB; null where the system does not tell. */
  readonly peakMiB: number | null;
}

/** All begin at once, and answer as soon as they have heard: far faster than people do. */
export async function lineCalls(calls: number): Promise<LineMeasured> {
  const server = await aServer();
  await server.start();
  const times: number[] = [];
  let failed = 0;
  const timed = async <T>(request: () => Promise<T>): Promise<T> => {
    const from = clockMillis();
    const answer = await request();
    times.push(clockMillis() - from);
    return answer;
  };
  const site = { ...server.site, timed };
  await Promise.all(
    Array.from({ length: calls }, async () => {
      try {
        await saysAllIsWell(await Call.rings(site));
      } catch {
        failed += 1;
      }
    }),
  );
  const peakMiB = peakOf(server.pid());
  await server.remove();
  return {
    calls,
    turns: times.length,
    failed,
    p50: quantile(times, 0.5),
    p99: quantile(times, 0.99),
    peakMiB,
  };
}

/** As Linux keeps it (proc(5), VmHWM). */
function peakOf(pid: number | null): number | null {
  try {
    const status = readFileSync(`/proc/${String(pid)}/status`, 'utf8');
    const kib = /^VmHWM:\s+(\d+) kB/m.exec(status)?.[1];
    return kib === undefined ? null : Number(kib) / 1024;
  } catch {
    return null;
  }
}
