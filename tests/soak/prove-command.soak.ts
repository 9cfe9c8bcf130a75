/** The command on all flows of the repository: alone, in pairs and with surgeons' own rules. */
import { spawnSync } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { z } from 'zod';
import { projectFolder } from '../support/project-files.ts';

const reportSchema = z.object({ proved: z.boolean(), combinations: z.string() });

test('proves every flow of the repository, alone, combined and with surgeons’ own rules', () => {
  const file = join(projectFolder, 'src', 'terminal', 'prove.ts');
  const ran = spawnSync(process.execPath, ['--import', 'tsx', file, '--json'], {
    cwd: projectFolder,
    encoding: 'utf8',
    maxBuffer: 64 * 1024 * 1024,
  });
  const reports = ran.stdout
    .trim()
    .split('\n')
    .map((line) => reportSchema.parse(JSON.parse(line)));
  expect(reports.filter(({ proved }) => !proved)).toEqual([]);
  expect(ran.status).toBe(0);
  const procedures = readdirSync(join(projectFolder, 'flows', 'procedures')).length - 1;
  const surgeons = readdirSync(join(projectFolder, 'flows', 'surgeons')).length;
  const pairs = (procedures * (procedures - 1)) / 2;
  expect(reports).toHaveLength(procedures + 1 + pairs + surgeons * procedures);
  expect(reports.every(({ combinations }) => BigInt(combinations) > 10n ** 14n)).toBe(true);
});
