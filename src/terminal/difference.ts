/** Command: what an edit of flows changes, from one folder of flow files to another, for the person who signs it. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Command } from 'commander';
import { showDiagnostic } from '../content/diagnostic.ts';
import { readFolder } from '../content/read-folder.ts';
import type { CompiledFlow } from '../flow/compiled.ts';
import { loadFlows, type FlowLibrary } from '../flow/library.ts';
import { differenceJson, differenceMarkdown } from '../prove/difference/difference-text.ts';
import { differenceOf, shortestMoves, type Difference } from '../prove/difference/difference.ts';
import { moveCallText } from '../prove/difference/move-call.ts';
import { singleFlowsOf } from '../prove/library-flows.ts';
import { screen } from './screen.ts';

const program = new Command('difference')
  .argument('<old>', 'a folder of flow files as they were')
  .argument('<new>', 'a folder of flow files as they are to be')
  .option('--procedure <id...>', 'only these procedures; several make one operation with --together')
  .option('--together', 'the procedures named are one operation')
  .option('--json', 'print one object a flow')
  .option('--write <dir>', 'write the shortest call of each move as a demo call into this folder')
  .exitOverride((error) => {
    screen.exit(error.exitCode === 0 ? 0 : 2);
    throw error;
  });

interface Options {
  readonly procedure?: readonly string[];
  readonly together?: true;
  readonly json?: true;
  readonly write?: string;
}

function main(): void {
  program.parse();
  const [old = '', now = ''] = program.args;
  const { procedure, together, json, write } = program.opts<Options>();
  const before = libraryIn(old);
  const after = libraryIn(now);
  if (before === null || after === null) return screen.exit(2);
  const wanted = procedure ?? allProcedures(before, after);
  const unknown = wanted.find((id) => !isKnown(before, id) && !isKnown(after, id));
  if (unknown !== undefined) {
    screen.error(
      `There is no procedure ${unknown}; one of ${allProcedures(before, after).join(', ')} is accepted.`,
    );
    return screen.exit(2);
  }
  const operations = together === true ? [wanted] : wanted.map((id) => [id]);
  for (const operation of operations) {
    const flows = { before: before.flowFor(operation), after: after.flowFor(operation) };
    if (flows.before.hash === flows.after.hash) {
      if (json !== true && procedure !== undefined)
        screen.line(`${flows.after.flow.id}: nothing is changed.`);
      continue;
    }
    const difference = differenceOf(flows.before, flows.after);
    screen.line(json === true ? JSON.stringify(differenceJson(difference)) : differenceMarkdown(difference));
    if (write !== undefined) writeCalls(write, difference, flows.after);
  }
}

/** Null: it does not load; all that is wrong was said. */
function libraryIn(folder: string): FlowLibrary | null {
  const texts = readFolder(folder);
  const library = texts.ok ? loadFlows(texts.value) : texts;
  if (library.ok) return library.value;
  for (const diagnostic of library.fault) screen.error(showDiagnostic(diagnostic));
  return null;
}

function allProcedures(...libraries: readonly FlowLibrary[]): readonly string[] {
  return [...new Set(libraries.flatMap((library) => singleFlowsOf(library).map(({ flow }) => flow.id)))];
}

function isKnown(library: FlowLibrary, id: string): boolean {
  return singleFlowsOf(library).some(({ flow }) => flow.id === id);
}

function writeCalls(folder: string, difference: Difference, { flow }: CompiledFlow): void {
  mkdirSync(folder, { recursive: true });
  for (const [at, move] of shortestMoves(difference).entries()) {
    writeFileSync(
      join(folder, `${flow.id}-move-${String(at + 1)}.yaml`),
      moveCallText(flow.procedures, move),
    );
  }
}

try {
  main();
} catch (error) {
  if (!(error instanceof Error) || error.name !== 'CommanderError') throw error;
}
