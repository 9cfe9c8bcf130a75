/**
 * Command: proves the safety properties of every flow; shows a call where one does not hold. Combined operations and
 * surgeons' own rules are proved beside the rest, by a second process of the same program.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { fork } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Command } from 'commander';
import { showDiagnostic } from '../content/diagnostic.ts';
import { demoCallText } from '../prove/demo-call.ts';
import { checkEdges } from '../prove/edges.ts';
import { flowsOf, singleFlowsOf } from '../prove/library-flows.ts';
import { proveDerived, proveSingles, proveToldOnce, withTold } from '../prove/prove.ts';
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
  const beside = fork(fileURLToPath(import.meta.url), { serialization: 'advanced' });
  const derived = once(beside, 'message') as Promise<[readonly FlowReport[]]>;
  const library = loadLibrary();
  if (!library.ok) {
    beside.kill();
    for (const diagnostic of library.fault) screen.error(showDiagnostic(diagnostic));
    return screen.exit(2);
  }
  const singles = proveSingles(singleFlowsOf(library.value));
  const told = proveToldOnce(library.value.general);
  const reports = [...withTold(singles, told), ...(await derived)[0]];
  for (const report of reports) {
    if (json === true) screen.line(JSON.stringify(reportJson(report)));
    else for (const line of reportLines(report)) screen.line(line);
  }
  const edges = checkEdges(library.value);
  for (const { file, line, message } of edges.gaps) screen.error(`${file}:${String(line)} ${message}`);
  if (json !== true)
    screen.line(`second entry: ${String(edges.rows)} rows, ${String(edges.gaps.length)} differ`);
  if (write !== undefined) writeCalls(write, reports);
  screen.exit(reports.every(isProved) && edges.gaps.length === 0 ? 0 : 1);
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

/** Only a process that was forked has somebody to send to. */
const send = process.send?.bind(process);

/** The flows that are made of others. Files that do not load are reported by the first process. */
function proveBeside(answer: (derived: readonly FlowReport[]) => unknown): void {
  const library = loadLibrary();
  if (library.ok) answer(proveDerived(flowsOf(library.value)));
}

if (send === undefined) {
  await main().catch((error: unknown) => {
    if (error instanceof Error && error.name === 'CommanderError') return;
    throw error;
  });
} else proveBeside(send);
