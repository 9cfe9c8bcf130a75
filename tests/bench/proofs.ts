/** How long proofs take: all flows through the command, and two properties of one flow beside the Z3 solver. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import type { CompiledFlow } from '../../src/flow/compiled.ts';
import { proveRedFlags } from '../../src/prove/red-flags.ts';
import { subjectOf } from '../../src/prove/subject.ts';
import { proveWorseAnswers } from '../../src/prove/worse-answers.ts';
import { startJudge } from '../support/z3-judge.ts';
import { clockMillis, median, millisOf } from './stopwatch.ts';

const DAY = { day: 5, hours: null };

/** Seconds from `npm run -s prove` to its end; the best of so many, because everything else only adds. */
export async function proveSeconds(times: number): Promise<number> {
  const seconds: number[] = [];
  for (let n = 0; n < times; n += 1) {
    const start = clockMillis();
    const [status] = (await once(spawn('npm', ['run', '-s', 'prove'], { stdio: 'ignore' }), 'exit')) as [
      number,
    ];
    if (status !== 0) throw new Error('The flows are not proved.');
    seconds.push((clockMillis() - start) / 1000);
  }
  return Math.min(...seconds);
}

export interface BesideSolver {
  /** Milliseconds for every day and hour. */
  readonly ours: number;
  /** Milliseconds for one day. */
  readonly solver: number;
}

/** Properties 2 (red flags) and 3 (worse answers) of one flow. */
export async function besideSolver(compiled: CompiledFlow): Promise<BesideSolver> {
  const ours = Array.from({ length: 5 }, () =>
    millisOf(() => {
      const subject = subjectOf(compiled);
      const verdicts = [proveRedFlags(subject), proveWorseAnswers(subject)].map(({ verdict }) => verdict);
      if (verdicts.some((verdict) => verdict !== 'proved')) throw new Error('The flow is not proved.');
    }),
  );
  const judge = await startJudge();
  const start = clockMillis();
  const found = [
    ...(await judge.mildFlags(compiled.flow, DAY)),
    ...(await judge.worseLowers(compiled.flow, DAY)),
  ];
  const solver = clockMillis() - start;
  judge.close();
  if (found.length > 0) throw new Error('The solver refutes the flow.');
  return { ours: median(ours), solver };
}
