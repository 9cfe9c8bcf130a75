/** Builds the desk's page into `.build/web` when its sources are newer than what was built. */
import { mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'vite';
import { z } from 'zod';
import type { PageFiles } from './pages.ts';

const top = join(import.meta.dirname, '..', '..');
const web = join(top, 'src', 'web');
/** What the page is made of: its own folder, and the shapes it shares with the desk. */
const sources = [web, join(top, 'src', 'desk', 'contract')];

/** In this order: what comes later may change what came before. */
const STYLES = ['base.css', 'controls.css', 'frame.css', 'call.css', 'log.css', 'print.css'] as const;

/** Where `pages.ts` serves the scripts. */
const ASSETS = '/assets/';
const MANIFEST = 'manifest.json';
const ENTRY = 'client/main.tsx';

const manifestSchema = z.record(
  z.string(),
  z.object({
    file: z.string(),
    imports: z.exactOptional(z.array(z.string())),
    dynamicImports: z.exactOptional(z.array(z.string())),
  }),
);
/** What the build made of each source, with what it loads at once and what later. */
export type PageManifest = z.infer<typeof manifestSchema>;

/** Rejects when a source does not build. */
export async function buildPage(folder: string = join(top, '.build', 'web')): Promise<PageFiles> {
  const changed = Math.max(newest(sources), builtAt(import.meta.filename));
  if (changed > builtAt(join(folder, MANIFEST))) await buildScripts(folder);
  const manifest = readManifest(folder);
  return {
    shell: readFileSync(join(web, 'shell.html'), 'utf8'),
    entry: fileOf(manifest, ENTRY),
    scripts: scriptsIn(folder, manifest),
    style: STYLES.map((name) => readFileSync(join(web, 'style', name), 'utf8')).join('\n'),
  };
}

function readManifest(folder: string = join(top, '.build', 'web')): PageManifest {
  return manifestSchema.parse(JSON.parse(readFileSync(join(folder, MANIFEST), 'utf8')));
}

/** The scripts that a page needs before it shows: its own first, then what it imports, and the entry. */
export function loadedFor(source: string, folder: string = join(top, '.build', 'web')): readonly string[] {
  const manifest = readManifest(folder);
  const files = new Set<string>();
  const add = (name: string): void => {
    const part = manifest[name];
    if (part === undefined) throw new Error(`The build made nothing of ${name}`);
    if (files.has(part.file)) return;
    files.add(part.file);
    for (const other of part.imports ?? []) add(other);
  };
  add(source);
  add(ENTRY);
  return [...files];
}

function fileOf(manifest: PageManifest, source: string): string {
  const part = manifest[source];
  if (part === undefined) throw new Error(`The build made nothing of ${source}`);
  return part.file;
}

/** Only what this build made: the folder may hold scripts of builds before it. */
function scriptsIn(folder: string, manifest: PageManifest): ReadonlyMap<string, string> {
  const names = [...new Set(Object.values(manifest).map(({ file }) => file))];
  return new Map(names.map((name) => [name, readFileSync(join(folder, name), 'utf8')]));
}

// Every script has a hash in its name and the manifest comes last, so that two starts at once never serve half a page.
async function buildScripts(folder: string): Promise<void> {
  const draft = `${folder}.${String(process.pid)}`;
  await build({
    root: web,
    base: ASSETS,
    configFile: false,
    logLevel: 'silent',
    oxc: { jsx: { runtime: 'automatic', development: false } },
    // Whatever the environment says: the page that is tested is the page that is served.
    mode: 'production',
    define: { 'process.env.NODE_ENV': JSON.stringify('production') },
    build: {
      outDir: draft,
      emptyOutDir: true,
      assetsDir: '.',
      manifest: MANIFEST,
      target: 'es2023',
      modulePreload: { polyfill: false },
      rolldownOptions: { input: join(web, ENTRY) },
    },
  });
  mkdirSync(folder, { recursive: true });
  const scripts = readdirSync(draft).filter((name) => name !== MANIFEST);
  for (const name of [...scripts, MANIFEST]) renameSync(join(draft, name), join(folder, name));
  rmSync(draft, { recursive: true, force: true });
}

function newest(folders: readonly string[]): number {
  const files = folders.flatMap((folder) =>
    readdirSync(folder, { recursive: true, encoding: 'utf8' }).map((below) => join(folder, below)),
  );
  return Math.max(...files.map((file) => statSync(file).mtimeMs));
}

function builtAt(file: string): number {
  return statSync(file, { throwIfNoEntry: false })?.mtimeMs ?? 0;
}
