/** Command: a picture of every script for each run of days, or the sheets of one script that a surgeon signs. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Command } from 'commander';
import { civilTime } from '../basics/civil-time.ts';
import { systemClock } from '../basics/system-clock.ts';
import { showDiagnostic } from '../content/diagnostic.ts';
import { signedState } from '../flow/approvals.ts';
import type { CompiledFlow } from '../flow/compiled.ts';
import { daysText, dayWindowsOf } from '../prove/picture/day-windows.ts';
import { pictureOf } from '../prove/picture/graph.ts';
import { sheetOf } from '../prove/picture/sheet.ts';
import { svgOf } from '../prove/picture/svg.ts';
import { loadContent, type Content } from '../server/content.ts';
import { screen } from './screen.ts';

const program = new Command('draw')
  .argument(
    '[procedures...]',
    'ids of procedures; several of one operation are joined by +; none means every script',
  )
  .option('--sheet <procedure>', 'the sheets of one script, as a page that prints')
  .option('--to <folder>', 'where the files go', '.build/pictures')
  .option('--flows <folder>', 'the folder of the scripts', 'flows')
  .exitOverride((error) => {
    screen.exit(error.exitCode === 0 ? 0 : 2);
    throw error;
  });

interface Options {
  readonly sheet?: string;
  readonly to: string;
  readonly flows: string;
}

const NOTE =
  'Left: what is asked without being prompted. Each answer leads to a possible complication (dashed), where points add up, or to an outcome. What is asked only when something points to it stands on the sheet.';

async function main(): Promise<void> {
  program.parse();
  const options = program.opts<Options>();
  const content = loadContent(options.flows);
  if (!content.ok) {
    for (const diagnostic of content.fault) screen.error(showDiagnostic(diagnostic));
    return screen.exit(2);
  }
  const { library } = content.value;
  const named = options.sheet === undefined ? program.args : [options.sheet];
  const ids = named.length > 0 ? named : [...library.procedures, 'general'];
  const unknown = ids.flatMap((id) => id.split('+')).find((id) => !library.files.procedures.has(id));
  if (unknown !== undefined) {
    screen.error(
      `There is no script for ${unknown}; accepted: ${[...library.files.procedures.keys()].join(', ')}.`,
    );
    return screen.exit(2);
  }
  mkdirSync(options.to, { recursive: true });
  for (const id of ids) {
    const compiled = library.flowFor(id.split('+'));
    if (options.sheet === undefined) await drawAll(options.to, compiled);
    else writeSheet(options.to, content.value, compiled);
  }
}

async function drawAll(folder: string, { flow }: CompiledFlow): Promise<void> {
  for (const days of dayWindowsOf(flow)) {
    const file = join(folder, `${flow.id}-${days.join('-')}.svg`);
    const title = `${flow.title}, ${daysText(days)}`;
    writeFileSync(file, await svgOf(pictureOf(flow, days), { title, note: NOTE }));
    screen.line(file);
  }
}

function writeSheet(folder: string, content: Content, { flow, hash }: CompiledFlow): void {
  const today = civilTime(systemClock.now(), content.practice.zone);
  const date = today.ok ? today.value.date : '';
  const { state, until } = signedState(content.approvals(), { procedure: flow.id, hash }, date);
  const file = join(folder, `${flow.id}-sheets.html`);
  const said = until === null ? `${state}, not approved for use` : `approved until ${until}`;
  writeFileSync(file, sheetOf(flow, { practice: content.practice.name, hash, state: said }));
  screen.line(file);
}

await main().catch((error: unknown) => {
  if (error instanceof Error && error.name === 'CommanderError') return;
  throw error;
});
