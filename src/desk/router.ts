/** Binds the table of endpoints to HTTP: parts of the request in, JSON or a fault out. */
import { Router, type Request, type Response } from 'express';
import { fault, type Fault } from '../basics/fault.ts';
import { failed, type Result } from '../basics/result.ts';
import type { SignedIn } from '../people/staff.ts';
import type { FaultShape } from './contract/common.ts';
import type { DeskDeps } from './deps.ts';
import { auditedOf } from './audited.ts';
import type { DeskRequest } from './endpoint.ts';
import { keepTrail, type KeepTrail } from './keep-trail.ts';
import { onCallNow } from './on-call.ts';
import { ROUTES, type Route } from './routes.ts';

export interface DeskParts {
  readonly deps: DeskDeps;
  /** Who the request was let in as; whoever composes the program lets nobody else come this far. */
  readonly whoOf: (response: Response) => SignedIn;
  /** The program's one table from faults to statuses. */
  readonly statusOf: (code: Fault['code']) => number;
}

export function deskRouter({ deps, whoOf, statusOf }: DeskParts): Router {
  const router = Router();
  const trail = keepTrail(deps.audit, deps.turn.clock);
  for (const route of ROUTES) {
    router[route.method](route.path, (request, response) =>
      respond({ deps, who: whoOf(response), route, trail, statusOf }, request, response),
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
  readonly route: Route;
  readonly trail: KeepTrail;
  readonly statusOf: (code: Fault['code']) => number;
}

async function respond(
  { deps, who, route, trail, statusOf }: Responding,
  request: Request,
  response: Response,
): Promise<void> {
  // What is on this page is a patient's; no cache keeps it.
  response.setHeader('Cache-Control', 'no-store');
  const parts = partsOf(who, request);
  const result = await keptAnswer({ deps, route, trail }, parts, request.ip ?? '');
  if (result.ok) {
    response.json(result.value);
    return;
  }
  response.status(statusOf(result.fault.code)).json(faultShape(deps, result.fault));
}

const UNKEPT = failed(
  fault('store-down', 'Who asked cannot be written down now, so nothing is shown; send it once more.'),
);

/** Nobody hears an answer before the audit trail has who asked. */
async function keptAnswer(
  { deps, route, trail }: Pick<Responding, 'deps' | 'route' | 'trail'>,
  parts: DeskRequest,
  from: string,
): Promise<Result<unknown, Fault>> {
  const keep = async (answer: unknown): Promise<boolean> => {
    if (route.noPatient === true) return true;
    const seen = auditedOf(`${route.method} ${route.path}`, parts, answer);
    return (await trail({ ...seen, who: parts.who, from, isChange: route.method !== 'get' })).ok;
  };
  // Where the address says what it is about, both are written in one go.
  const early = parts.id === '' ? null : keep(null);
  const answered = await route.answer(deps, parts);
  const isKept = await (early ?? (answered.ok ? keep(answered.value) : true));
  return answered.ok && !isKept ? UNKEPT : answered;
}

function partsOf(who: SignedIn, request: Request): DeskRequest {
  const { id } = request.params;
  const search = textsIn(request.query);
  const { q, before } = request.query;
  return {
    who,
    id: typeof id === 'string' ? id : '',
    search,
    query: typeof q === 'string' ? q : '',
    before: typeof before === 'string' ? before : '',
    body: request.body,
  };
}

function textsIn(query: Request['query']): Readonly<Record<string, string>> {
  return Object.fromEntries(
    Object.entries(query).flatMap(([name, text]) => (typeof text === 'string' ? [[name, text]] : [])),
  );
}

/** Every fault carries whom to ring, so that a nurse is never left with an error alone. */
export function faultShape(deps: DeskDeps, fault: { code: string; message: string }): FaultShape {
  const { ladder } = onCallNow(deps.practice, deps.turn.clock.now());
  return { fault: { code: fault.code, message: fault.message }, ring: ladder };
}
