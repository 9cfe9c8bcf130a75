/** The command on two folders of flow files: it names what moves, and the call that it writes runs on the new ones. */
import { execFile } from 'node:child_process';
import { cpSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, test } from 'vitest';
import { projectFolder } from '../../support/project-files.ts';
import { tempDir } from '../../support/temp-dir.ts';

interface Ran {
  readonly status: number;
  readonly output: string;
  readonly errors: string;
}

const loader = pathToFileURL(join(projectFolder, 'node_modules', 'tsx', 'dist', 'loader.mjs')).href;

function run(command: string, cwd: string, more: readonly string[]): Promise<Ran> {
  const file = join(projectFolder, 'src', 'terminal', `${command}.ts`);
  return new Promise((resolve) => {
    const child = execFile(
      process.execPath,
      ['--import', loader, file, ...more],
      { cwd },
      (_error, output, errors) => resolve({ status: child.exitCode ?? -1, output, errors }),
    );
  });
}

const RULE = [
  'rules:',
  '  - id: late-itch',
  '    days: 300-305',
  '    if: { scar-raised-itchy: yes }',
  '    at-least: { within: next-day }',
  '    because: An itch so late was to be looked at.',
  '    source: invented',
].join('\n');

function folders(): string {
  const folder = tempDir();
  for (const name of ['old', 'flows']) {
    cpSync(join(projectFolder, 'flows'), join(folder, name), {
      recursive: true,
      filter: (path) => !/procedures\/(?!breast-lift|general)|surgeons\/|edges/.test(path),
    });
  }
  const file = join(folder, 'flows', 'procedures', 'breast-lift.yaml');
  writeFileSync(file, readFileSync(file, 'utf8').replace(/^rules:$/m, RULE));
  mkdirSync(join(folder, 'calls'));
  return folder;
}

test('a rule that was added', async () => {
  const folder = folders();
  const shown = await run('difference', folder, [
    'old',
    'flows',
    '--procedure',
    'breast-lift',
    '--write',
    'calls',
  ]);
  expect(shown.errors).toBe('');
  expect(shown.status).toBe(0);
  expect(shown.output).toContain('- **late-itch**: new.');
  // The scar rule of the flow gives a planned visit by itself; where the day is unknown every rule may count.
  const row =
    'arrange-review, planned-visit | arrange-review, next-day | days 300-305; day unknown | day 300: scar-raised-itchy=yes';
  expect(shown.output).toContain(row);
  expect(shown.output).toContain('Nothing counts differently on:');
  const call = 'calls/breast-lift-move-1.yaml';
  const replayed = await run('replay', folder, [call, '--json']);
  expect(JSON.parse(replayed.output)).toMatchObject({
    outcome: 'arrange-review',
    within: 'next-day',
    pass: true,
  });
  const refused = await run('difference', folder, ['old', 'flows', '--procedure', 'breast-left']);
  expect(refused.status).toBe(2);
  expect(refused.errors).toContain('There is no procedure breast-left');
});
