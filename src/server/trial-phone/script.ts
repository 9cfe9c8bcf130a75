/** Makes plain scripts of the trial phone's TypeScript: one for its page, one for the thread that speaks. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { build, transformWithOxc } from 'vite';
import { z } from 'zod';

const web = join(import.meta.dirname, '..', '..', 'web');

const builtSchema = z.object({ output: z.array(z.object({ code: z.string() })).min(1) });

/** The page's script with all that it imports. */
export async function phoneScript(): Promise<string> {
  const built = await build({
    root: web,
    configFile: false,
    logLevel: 'silent',
    build: {
      write: false,
      target: 'es2023',
      modulePreload: { polyfill: false },
      rolldownOptions: { input: join(web, 'client', 'trial-phone', 'main.ts') },
    },
  });
  const [script] = builtSchema.parse(Array.isArray(built) ? built[0] : built).output;
  return script?.code ?? '';
}

/** A thread does not read TypeScript by itself, so it gets its program as the text of an address. */
export async function speechProgram(): Promise<URL> {
  const file = join(import.meta.dirname, 'speech-worker.ts');
  const { code } = await transformWithOxc(readFileSync(file, 'utf8'), file);
  return new URL(`data:text/javascript,${encodeURIComponent(code)}`);
}
