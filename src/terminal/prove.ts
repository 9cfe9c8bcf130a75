/** Command: proves the safety properties of every flow; shows a call where one does not hold. Uses two processes. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { fork } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import { Command } from 'commander';
import { showDiagnostic } from '../content/diagnostic.ts';
import { demoCallText } from '../prove/demo-call.ts';
import { singleFlowsOf } from '../prove/library-flows.ts';
import { proveSingles } from '../prove/prove.ts';
import { isProved, type FlowReport } from '../prove/report.ts';
import { reportJson, reportLines } from '../prove/report-text.ts';
import { loadLibrary } from './load-library.ts';
import { screen } from './screen.ts';

const program = new Command('prove')
  .option('--json', 'print one object a flow')
  .option('--write <dir>', 'write each counterexample as a demo call into this folder')
  .exitOverride((error) => {
    screen.exit(error.exitCode === 0 ? 0 : 2);
    throw error;
  });

interface Options {
  readonly json?: true;
  readonly write?: string;
}

async function main(): Promise<void> {
  const { json, write } = program.parse().opts<Options>();
  const worker = fork(new URL('./prove-worker.ts', import.meta.url), { serialization: 'advanced' });
  const derived = once(worker, 'message') as Promise<[readonly FlowReport[]]>;
  const library = loadLibrary();
  if (!library.ok) {
    worker.kill();
    for (const diagnostic of library.fault) screen.error(showDiagnostic(diagnostic));
    return screen.exit(2);
  }
  const reports = [...proveSingles(singleFlowsOf(library.value)), ...(await derived)[0]];
  for (const report of reports) {
    if (json === true) screen.line(JSON.stringify(reportJson(report)));
    else for (const line of reportLines(report)) screen.line(line);
  }
  if (write !== undefined) writeCalls(write, reports);
  screen.exit(reports.every(isProved) ? 0 : 1);
}

function writeCalls(folder: string, reports: readonly FlowReport[]): void {
  mkdirSync(folder, { recursive: true });
  for (const { flow, procedures, proofs } of reports) {
    for (const { property, counterexamples } of proofs) {
      for (const [at, counterexample] of counterexamples.entries()) {
        const name = `${flow}-property-${String(property)}-${String(at + 1)}.yaml`;
        writeFileSync(join(folder, name), demoCallText({ property, procedures, counterexample }));
      }
    }
  }
}

await main().catch((error: unknown) => {
  if (error instanceof Error && error.name === 'CommanderError') return;
  throw error;
});
