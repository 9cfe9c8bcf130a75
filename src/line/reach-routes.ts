/** The provider's webhooks of outgoing rings and of text messages; each is signed, none steers anything but its own call. */
import express, { Router, type Request, type RequestHandler, type Response } from 'express';
import twilio from 'twilio';
import { brokenLeg } from './broken.ts';
import { page, pageKey, pageStatus, type Query } from './page-leg.ts';
import type { ReachDeps } from './reach-deps.ts';
import type { Params } from './read-reply.ts';
import { ring, ringStatus } from './ring-leg.ts';
import { signedOnly } from './signature.ts';
import { textIncoming } from './text-door.ts';
import { textStatus } from './text-status.ts';

const BODY_LIMIT = '64kb';

export function reachRoutes(deps: ReachDeps): Router {
  const router = Router();
  const signed = [express.urlencoded({ extended: false, limit: BODY_LIMIT }), signedOnly(deps.line)];
  router.post(
    '/line/page',
    signed,
    spoken(deps, (query) => page(deps, query)),
  );
  router.post(
    '/line/page-key',
    signed,
    spoken(deps, (query, params) => pageKey(deps, query, params)),
  );
  router.post(
    '/line/page-status',
    signed,
    status(deps, (query, params) => pageStatus(deps, query, params)),
  );
  router.post(
    '/line/ring',
    signed,
    spoken(deps, (query) => ring(deps, query)),
  );
  router.post(
    '/line/ring-status',
    signed,
    status(deps, (query, params) => ringStatus(deps, query, params)),
  );
  router.post('/text/incoming', signed, texted(deps));
  router.post(
    '/text/status',
    signed,
    status(deps, (query, params) => textStatus(deps, query, params)),
  );
  return router;
}

/** A leg that breaks hangs up: the ladder goes on to the next rung. */
function spoken(deps: ReachDeps, say: (query: Query, params: Params) => Promise<string>): RequestHandler {
  return async (request, response) => {
    const said = await guarded(deps, () => say(request.query, paramsOf(request)));
    response.type('text/xml').send(said ?? brokenLeg());
  };
}

/** What could not be written is asked for again by the provider, where it repeats failures. */
function status(deps: ReachDeps, take: (query: Query, params: Params) => Promise<boolean>): RequestHandler {
  return async (request, response) => {
    const taken = await guarded(deps, () => take(request.query, paramsOf(request)));
    response.status(taken === true ? 204 : 503).end();
  };
}

/** A text that could not be kept is answered all the same: what to do in an emergency, and whom to ring. */
function texted(deps: ReachDeps): RequestHandler {
  return async (request, response: Response) => {
    const done = await guarded(deps, () => textIncoming(deps, paramsOf(request)));
    const answer = new twilio.twiml.MessagingResponse();
    const words = done?.ok === true ? done.value : deps.broken;
    if (words !== null) answer.message(words);
    response.type('text/xml').send(answer.toString());
  };
}

async function guarded<TValue>(deps: ReachDeps, task: () => Promise<TValue>): Promise<TValue | null> {
  try {
    return await task();
  } catch (error) {
    deps.line.broke(error);
    return null;
  }
}

function paramsOf(request: Request): Params {
  return typeof request.body === 'object' && request.body !== null ? (request.body as Params) : {};
}
