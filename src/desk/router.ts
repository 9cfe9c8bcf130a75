/** Binds the table of endpoints to HTTP: parts of the request in, JSON or a fault out. */
import { Router, type Request, type Response } from 'express';
import type { Fault } from '../basics/fault.ts';
import type { SignedIn } from '../people/staff.ts';
import type { FaultShape } from './contract/common.ts';
import type { DeskDeps } from './deps.ts';
import type { DeskRequest, Endpoint } from './endpoint.ts';
import { onCallNow } from './on-call.ts';
import { ROUTES } from './routes.ts';

export interface DeskParts {
  readonly deps: DeskDeps;
  /** Who the request was let in as; whoever composes the program lets nobody else come this far. */
  readonly whoOf: (response: Response) => SignedIn;
  /** The program's one table from faults to statuses. */
  readonly statusOf: (code: Fault['code']) => number;
}

export function deskRouter({ deps, whoOf, statusOf }: DeskParts): Router {
  const router = Router();
  for (const { method, path, answer } of ROUTES) {
    router[method](path, (request, response) =>
      respond({ deps, who: whoOf(response), answer, statusOf }, request, response),
    );
  }
  router.use('/api', (_request, response) => {
    const fault: Fault = { code: 'not-found', message: 'The desk has nothing at this address.' };
    response.status(statusOf(fault.code)).json(faultShape(deps, fault));
  });
  return router;
}

interface Responding {
  readonly deps: DeskDeps;
  readonly who: SignedIn;
  readonly answer: Endpoint;
  readonly statusOf: (code: Fault['code']) => number;
}

async function respond(
  { deps, who, answer, statusOf }: Responding,
  request: Request,
  response: Response,
): Promise<void> {
  // What is on this page is a patient's; no cache keeps it.
  response.setHeader('Cache-Control', 'no-store');
  const result = await answer(deps, partsOf(who, request));
  if (result.ok) {
    response.json(result.value);
    return;
  }
  response.status(statusOf(result.fault.code)).json(faultShape(deps, result.fault));
}

function partsOf(who: SignedIn, request: Request): DeskRequest {
  const { id } = request.params;
  const { q } = request.query;
  return {
    who,
    id: typeof id === 'string' ? id : '',
    query: typeof q === 'string' ? q : '',
    body: request.body,
  };
}

/** Every fault carries whom to ring, so that a nurse is never left with an error alone. */
export function faultShape(deps: DeskDeps, fault: { code: string; message: string }): FaultShape {
  const { ladder } = onCallNow(deps.practice, deps.turn.clock.now());
  return { fault: { code: fault.code, message: fault.message }, ring: ladder };
}
