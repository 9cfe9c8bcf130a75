/** Command: proves the safety properties of every flow; shows a call where one does not hold. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Command } from 'commander';
import { showDiagnostic } from '../content/diagnostic.ts';
import { readFolder } from '../content/read-folder.ts';
import { loadFlows } from '../flow/library.ts';
import { demoCallText } from '../prove/demo-call.ts';
import { flowsOf } from '../prove/library-flows.ts';
import { prove } from '../prove/prove.ts';
import { isProved, type FlowReport } from '../prove/report.ts';
import { reportJson, reportLines } from '../prove/report-text.ts';
import { screen } from './screen.ts';

const options = new Command()
  .name('prove')
  .option('--json', 'print one object a flow')
  .option('--write <dir>', 'write each counterexample as a demo call into this folder')
  .parse()
  .opts<{ json?: boolean; write?: string }>();

const texts = readFolder('flows');
const library = texts.ok ? loadFlows(texts.value) : texts;
if (!library.ok) {
  for (const diagnostic of library.fault) screen.error(showDiagnostic(diagnostic));
  screen.exit(2);
} else {
  const reports = prove(flowsOf(library.value));
  for (const report of reports) {
    if (options.json === true) screen.line(JSON.stringify(reportJson(report)));
    else for (const line of reportLines(report)) screen.line(line);
  }
  if (options.write !== undefined) writeCalls(options.write, reports);
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
