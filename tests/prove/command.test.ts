/** The command on real files: a broken flow is refuted by a call that can be replayed; what does not load is named. */
import { execFile } from 'node:child_process';
import { cpSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, test } from 'vitest';
import { projectFolder } from '../support/project-files.ts';
import { tempDir } from '../support/temp-dir.ts';

interface Ran {
  readonly status: number;
  readonly lines: readonly string[];
  readonly errors: string;
}

const loader = pathToFileURL(join(projectFolder, 'node_modules', 'tsx', 'dist', 'loader.mjs')).href;

function run(command: string, cwd: string, more: readonly string[] = []): Promise<Ran> {
  const file = join(projectFolder, 'src', 'terminal', `${command}.ts`);
  return new Promise((resolve) => {
    const child = execFile(
      process.execPath,
      ['--import', loader, file, ...more],
      { cwd, maxBuffer: 64 * 1024 * 1024 },
      (_error, output, errors) =>
        resolve({ status: child.exitCode ?? -1, lines: output.trim().split('\n'), errors }),
    );
  });
}

/** A folder with flow files of its own: the breast lift, the general flow, and a change to a file of theirs. */
function folderWith(file: string, change: (text: string) => string): string {
  const folder = tempDir();
  const flows = join(folder, 'flows');
  cpSync(join(projectFolder, 'flows'), flows, {
    recursive: true,
    filter: (path) => !/procedures\/(?!breast-lift|general)|surgeons\/|edges\//.test(path),
  });
  const before = readFileSync(join(flows, file), 'utf8');
  const after = change(before);
  if (before === after) throw new Error('Nothing was changed');
  writeFileSync(join(flows, file), after);
  return folder;
}

describe('the command', () => {
  test('shows a call that replay finds to fall short', async () => {
    const rule = [
      'rules:',
      '  - id: small-gap',
      '    if: { wound-gap: small }',
      '    red-flag: { concern: healing, within: 1-hour, until-seen: [Lay a clean moist pad on it.] }',
      '    because: A small gap was taken for worse than a wide one.',
      '    source: invented',
    ].join('\n');
    const folder = folderWith('procedures/breast-lift.yaml', (text) => text.replace(/^rules:$/m, rule));
    const calls = join(folder, 'calls');
    mkdirSync(calls);
    const proved = await run('prove', folder, ['--write', calls]);
    expect(proved.status).toBe(1);
    expect(proved.lines.join('\n')).toContain('wound-gap=open comes to arrange-review');
    const [call] = readdirSync(calls);
    expect(call).toBe('breast-lift-property-3-1.yaml');
    const replayed = await run('replay', folder, [join(calls, call ?? ''), '--json']);
    expect(replayed.status).toBe(1);
    expect(JSON.parse(replayed.lines[0] ?? '')).toMatchObject({
      outcome: 'arrange-review',
      findings: { 'wound-gap': 'open' },
      neverAsked: [],
      pass: false,
    });
  });

  test('refuses files that do not load, and names the place', async () => {
    const folder = folderWith('procedures/general.yaml', (text) => text.replace(/^title:.*$/m, 'titel: x'));
    const { status, errors, lines } = await run('prove', folder);
    expect(status).toBe(2);
    expect(errors).toContain('procedures/general.yaml');
    expect(lines).toEqual(['']);
  });
});
