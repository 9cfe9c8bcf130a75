/** Serves the desk's pages: one shell for every address, filled with what must show even when the script does not run. */
import { Router, type Response } from 'express';
import { escapeHtml } from './escape-html.ts';
import type { DeskDeps } from '../desk/deps.ts';
import { practiceAnswer } from '../desk/get-practice.ts';

/** The built page, read once at start. */
export interface PageFiles {
  readonly shell: string;
  /** Name of the script that starts the page. */
  readonly entry: string;
  /** By name; a name holds a hash of the text, so that it never changes under one name. */
  readonly scripts: ReadonlyMap<string, string>;
  readonly style: string;
}

const PAGES = [
  { path: '/', page: 'home' },
  { path: '/calls/:id', page: 'call' },
  { path: '/calls/:id/record', page: 'record' },
  { path: '/log', page: 'log' },
  { path: '/log/:id', page: 'log-call' },
] as const;

const FOR_EVER = 'public, max-age=31536000, immutable';

export function pages(deps: DeskDeps, files: PageFiles): Router {
  const router = Router();
  for (const { path, page } of PAGES) {
    router.get(path, (_request, response) => {
      response.setHeader('Cache-Control', 'no-store');
      response.type('html').send(filled(files.shell, { ...shown(deps, files), page }));
    });
  }
  router.get('/assets/:name', (request, response, next) => {
    const script = files.scripts.get(request.params.name);
    if (script === undefined) next();
    else asset(response, { type: 'text/javascript', text: script, cache: FOR_EVER });
  });
  router.get('/page.css', (_request, response) =>
    asset(response, { type: 'text/css', text: files.style, cache: 'no-cache' }),
  );
  router.get('/favicon.ico', (_request, response) => response.status(204).end());
  router.use((_request, response) => {
    response
      .status(404)
      .type('html')
      .send(filled(files.shell, { ...shown(deps, files), page: 'nothing' }));
  });
  return router;
}

interface Asset {
  readonly type: string;
  readonly text: string;
  readonly cache: string;
}

function asset(response: Response, { type, text, cache }: Asset): void {
  response.setHeader('Cache-Control', cache);
  response.type(type).send(text);
}

function shown(deps: DeskDeps, { entry }: PageFiles): Readonly<Record<string, string>> {
  const practice = practiceAnswer(deps);
  const [first] = practice.onCall;
  return {
    entry,
    practice: practice.name,
    mode: practice.mode,
    emergency: practice.emergency.dial,
    'on-call': first === undefined ? '' : `${first.name}, ${first.shown}`,
    caution: practice.caution,
  };
}

/** Fills `{{name}}`; every value is escaped, and a name that nothing fills is a defect. */
function filled(shell: string, values: Readonly<Record<string, string>>): string {
  return shell.replace(/\{\{([a-z-]+)\}\}/g, (_all, name: string) => {
    const value = values[name];
    if (value === undefined) throw new Error(`Nothing fills ${name} in the page`);
    return escapeHtml(value);
  });
}
