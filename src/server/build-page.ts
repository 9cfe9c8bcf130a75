/** Builds the desk's page into `.build/web` when its sources are newer than what was built. */
import { mkdirSync, readdirSync, readFileSync, renameSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'esbuild';
import type { PageFiles } from './pages.ts';

const top = join(import.meta.dirname, '..', '..');
const web = join(top, 'src', 'web');
/** What the page is made of: its own folder, and the shapes it shares with the desk. */
const sources = [web, join(top, 'src', 'desk', 'contract')];

/** In this order: what comes later may change what came before. */
const STYLES = ['base.css', 'controls.css', 'call.css', 'print.css'] as const;

/** Rejects when a source does not build. */
export async function buildPage(folder: string = join(top, '.build', 'web')): Promise<PageFiles> {
  const script = join(folder, 'page.js');
  if (newest(sources) > builtAt(script)) await buildScript(folder, script);
  return {
    shell: readFileSync(join(web, 'shell.html'), 'utf8'),
    script: readFileSync(script, 'utf8'),
    style: STYLES.map((name) => readFileSync(join(web, 'style', name), 'utf8')).join('\n'),
  };
}

// Written beside and moved into place, so that two starts at once never serve half a script.
async function buildScript(folder: string, script: string): Promise<void> {
  const built = await build({
    entryPoints: [join(web, 'client', 'main.ts')],
    bundle: true,
    format: 'esm',
    target: 'es2022',
    minify: true,
    write: false,
    logLevel: 'silent',
  });
  mkdirSync(folder, { recursive: true });
  const draft = `${script}.${String(process.pid)}`;
  writeFileSync(draft, built.outputFiles[0]?.text ?? '');
  renameSync(draft, script);
}

function newest(folders: readonly string[]): number {
  const files = folders.flatMap((folder) =>
    readdirSync(folder, { recursive: true, encoding: 'utf8' }).map((below) => join(folder, below)),
  );
  return Math.max(...files.map((file) => statSync(file).mtimeMs));
}

function builtAt(script: string): number {
  return statSync(script, { throwIfNoEntry: false })?.mtimeMs ?? 0;
}
