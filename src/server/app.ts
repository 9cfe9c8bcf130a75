/** The HTTP application: guards, the desk's interface, its pages, and the answer to what went wrong. */
import express, { type Express, type Request, type Response } from 'express';
import type { Logger } from 'pino';
import type { DeskDeps } from '../desk/deps.ts';
import { deskRouter } from '../desk/router.ts';
import { answerDefect } from './answer-defect.ts';
import { statusOf } from './errors.ts';
import { localHostOnly, ownOriginOnly, securityHeaders } from './guards.ts';
import { pages, type PageFiles } from './pages.ts';

export interface AppDeps {
  readonly desk: DeskDeps;
  readonly files: PageFiles;
  readonly log: Logger;
}

const BODY_LIMIT = '64kb';

export function app({ desk, files, log }: AppDeps): Express {
  const server = express();
  server.disable('x-powered-by');
  server.disable('etag');
  server.use(logRequests(log));
  server.use(securityHeaders, localHostOnly, ownOriginOnly);
  server.use(express.json({ limit: BODY_LIMIT, type: 'application/json' }));
  server.use(deskRouter(desk, statusOf));
  server.use(pages(desk, files));
  server.use(answerDefect(desk, log));
  return server;
}

/** Method, route and status; never an address with an id, a query or a body. */
function logRequests(log: Logger) {
  return (request: Request, response: Response, next: () => void): void => {
    response.on('finish', () => {
      const route: unknown = request.route;
      const path = typeof route === 'object' && route !== null && 'path' in route ? String(route.path) : '-';
      log.info({ method: request.method, route: path, status: response.statusCode }, 'answered');
    });
    next();
  };
}
