/** `npm start` as a process of its own, in a folder that holds its flows and its data. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { projectFolder } from './project-files.ts';

export interface Ended {
  readonly code: number | null;
  readonly said: string;
  readonly complained: string;
}

/** The command that the `start` script names, in a folder of its own; `when` is called once it says where it is. */
export async function npmStart(
  folder: string,
  settings: object,
  when: (address: string) => Promise<void>,
): Promise<Ended> {
  const { scripts } = JSON.parse(readFileSync(join(projectFolder, 'package.json'), 'utf8'));
  const [, file = ''] = String(scripts.start).split(' ');
  const tsx = join(projectFolder, 'node_modules', 'tsx', 'dist', 'cli.mjs');
  const environment = {
    ...process.env,
    PORT: '0',
    DATA_DIR: join(folder, 'data'),
    DATABASE_URL: '',
    ...settings,
  };
  const child = spawn(process.execPath, [tsx, join(projectFolder, file)], { cwd: folder, env: environment });
  let said = '';
  let complained = '';
  let isCalled = false;
  child.stdout.on('data', (text: Buffer) => {
    said += text.toString();
    const address = /Desk: (\S+)\//.exec(said)?.[1];
    if (address === undefined || isCalled || !said.includes('clinical judgement')) return;
    isCalled = true;
    void when(address).finally(() => child.kill('SIGTERM'));
  });
  child.stderr.on('data', (text: Buffer) => {
    complained += text.toString();
  });
  const [code] = (await once(child, 'close')) as [number | null];
  return { code, said, complained };
}
