/** Lets a request through to its route, or not, by the one table of routes; an address outside the table leads nowhere. */
import { Router, type Request, type RequestHandler, type Response } from 'express';
import { fault, type Fault } from '../basics/fault.ts';
import type { SignedIn } from '../people/staff.ts';
import type { Access, RouteRow } from './route-table.ts';
import type { Found, Session, Sessions } from './sign-in/sessions.ts';

export interface Refusal {
  readonly why: 'signed-out' | 'needs-second-factor' | 'not-allowed' | 'sign-in-down' | 'nothing-here';
  readonly fault: Fault;
  readonly session: Session | null;
}

export interface GateParts {
  readonly table: readonly RouteRow[];
  readonly sessions: Sessions;
  readonly needsSecondFactor: boolean;
  readonly refuse: (request: Request, response: Response, refusal: Refusal) => void;
}

export interface Gates {
  readonly gate: RequestHandler;
  readonly sessionOf: (response: Response) => Session;
  /** Who a request was let in as. */
  readonly whoOf: (response: Response) => SignedIn;
}

const FAULTS: Readonly<Record<Refusal['why'], Fault>> = {
  'signed-out': fault(
    'signed-out',
    'Nobody is signed in, or the session has ended; sign in and send it once more.',
  ),
  'needs-second-factor': fault('not-allowed', 'Set up a second factor on your profile first.'),
  'not-allowed': fault('not-allowed', 'Your role does not do this; a colleague whose role does can.'),
  'sign-in-down': fault('store-down', 'Who is signed in cannot be looked up now; nothing was changed.'),
  'nothing-here': fault('not-found', 'The desk has nothing at this address.'),
};

export function gates(parts: GateParts): Gates {
  const admitted = new WeakMap<Response, Session>();
  const router = Router();
  for (const { method, path, access } of parts.table) {
    router[method](path, 'roles' in access ? guarded(parts, access, admitted) : letThrough);
  }
  router.use(async (request, response) => {
    const found = await parts.sessions.find(request.headers.cookie);
    refuseWith(parts, { request, response, found, why: 'nothing-here' });
  });
  const sessionOf = (response: Response): Session => {
    const session = admitted.get(response);
    if (session === undefined) throw new Error('A route that needs somebody signed in let nobody in.');
    return session;
  };
  const gate: RequestHandler = (request, response, next) => router(request, response, next);
  return { gate, sessionOf, whoOf: (response) => sessionOf(response).who };
}

const letThrough: RequestHandler = (_request, _response, next) => next('router');

function guarded(
  parts: GateParts,
  access: Extract<Access, { readonly roles: unknown }>,
  admitted: WeakMap<Response, Session>,
): RequestHandler {
  return async (request, response, next) => {
    const found = await parts.sessions.find(request.headers.cookie);
    const why = whyNot(parts, access, found);
    if (why !== null || found === 'down' || found.session === null) {
      refuseWith(parts, { request, response, found, why: why ?? 'signed-out' });
      return;
    }
    for (const cookie of found.cookies) response.append('Set-Cookie', cookie);
    admitted.set(response, found.session);
    next('router');
  };
}

function whyNot(
  { needsSecondFactor }: GateParts,
  access: Extract<Access, { readonly roles: unknown }>,
  found: Found | 'down',
): Refusal['why'] | null {
  if (found === 'down') return 'sign-in-down';
  if (found.session === null) return 'signed-out';
  if (!access.roles.includes(found.session.who.role)) return 'not-allowed';
  const isEnough = found.session.strong || !needsSecondFactor || access.beforeSecondFactor === true;
  return isEnough ? null : 'needs-second-factor';
}

interface Refusing {
  readonly request: Request;
  readonly response: Response;
  readonly found: Found | 'down';
  readonly why: Refusal['why'];
}

function refuseWith({ refuse }: GateParts, { request, response, found, why }: Refusing): void {
  const session = found === 'down' ? null : found.session;
  refuse(request, response, { why, fault: FAULTS[why], session });
}
