/** The outermost edge: a body that cannot be read, and a defect, which tells the nurse whom to ring. */
import type { ErrorRequestHandler } from 'express';
import type { Logger } from 'pino';
import { BrokenTurn } from '../call/safe-end.ts';
import type { DeskDeps } from '../desk/deps.ts';
import { faultShape } from '../desk/router.ts';

const UNREADABLE: Readonly<Record<string, { readonly status: number; readonly message: string }>> = {
  'entity.parse.failed': { status: 400, message: 'The body is not JSON; one JSON object is accepted.' },
  'entity.too.large': { status: 413, message: 'The body is too large; at most 64 kB is accepted.' },
  'encoding.unsupported': { status: 415, message: 'The encoding is not accepted; plain JSON in UTF-8 is.' },
  'charset.unsupported': { status: 415, message: 'The charset is not accepted; plain JSON in UTF-8 is.' },
};

const WRITTEN_DOWN =
  'The desk broke on this. What you sent is in the record, and a call-back within 5 minutes is open. Stay with the caller, ring the on-call clinician.';
const BROKEN =
  'The desk broke on this and kept nothing of it. Stay with the caller, ring the on-call clinician, write it on paper.';

export function answerDefect(deps: DeskDeps, log: Logger): ErrorRequestHandler {
  // Express knows an error handler by its four arguments.
  return (error: unknown, request, response, next) => {
    const unreadable = UNREADABLE[typeOf(error)];
    if (response.headersSent) {
      next(error);
      return;
    }
    if (unreadable !== undefined) {
      const fault = { code: 'bad-request', message: unreadable.message };
      response.status(unreadable.status).json(faultShape(deps, fault));
      return;
    }
    if (statusOfError(error) === 400) {
      const fault = { code: 'bad-request', message: 'The request cannot be read.' };
      response.status(400).json(faultShape(deps, fault));
      return;
    }
    const broke = error instanceof BrokenTurn ? error : null;
    const place = placeOf(broke === null ? error : broke.cause);
    log.error({ method: request.method, route: routeOf(request.route), ...place }, 'defect');
    const message = broke?.writtenDown === true ? WRITTEN_DOWN : BROKEN;
    response.status(500).json(faultShape(deps, { code: 'defect', message }));
  };
}

function typeOf(error: unknown): string {
  return typeof error === 'object' && error !== null && 'type' in error ? String(error.type) : '';
}

function statusOfError(error: unknown): unknown {
  return typeof error === 'object' && error !== null && 'status' in error ? error.status : null;
}

function routeOf(route: unknown): string {
  return typeof route === 'object' && route !== null && 'path' in route ? String(route.path) : '';
}

/** Where it broke. The message of an error may hold a caller's words, so it is never logged. */
function placeOf(error: unknown): { readonly kind: string; readonly frames: readonly string[] } {
  if (!(error instanceof Error)) return { kind: typeof error, frames: [] };
  const frames = (error.stack ?? '').split('\n').filter((line) => /^\s+at /.test(line));
  return { kind: error.name, frames: frames.slice(0, 12).map((frame) => frame.trim()) };
}
