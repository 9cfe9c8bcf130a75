/** The HTTP application: guards, the desk's interface, its pages, and the answer to what went wrong. */
import express, { type Express, type Request, type Response } from 'express';
import type { Logger } from 'pino';
import type { DeskDeps } from '../desk/deps.ts';
import { deskRouter } from '../desk/router.ts';
import type { LineDeps } from '../line/deps.ts';
import type { ReachDeps } from '../line/reach-deps.ts';
import { reachRoutes } from '../line/reach-routes.ts';
import { lineRoutes } from '../line/routes.ts';
import { answerDefect } from './answer-defect.ts';
import { statusOf } from './errors.ts';
import { gates } from './gates.ts';
import { ownHostOnly, ownOriginOnly, securityHeaders, type Site } from './guards.ts';
import { pages, type PageFiles } from './pages.ts';
import { refusing } from './refusing.ts';
import { tableFor } from './route-table.ts';
import { clinicianRoutes } from './sign-in/clinician-routes.ts';
import { codeRoutes } from './sign-in/code-routes.ts';
import { joinRoutes } from './sign-in/join-routes.ts';
import { profileRoutes } from './sign-in/profile-routes.ts';
import { providerRoutes } from './sign-in/provider-routes.ts';
import { staffRoutes } from './sign-in/staff-routes.ts';
import { signInRoutes } from './sign-in/sign-in-routes.ts';
import type { SignIn } from './sign-in/sign-in.ts';
import { trialPhone, type TrialParts } from './trial-phone/routes.ts';

export interface AppDeps {
  readonly desk: DeskDeps;
  readonly line: LineDeps;
  /** What the trial phone needs besides the line itself. */
  readonly trial: Omit<TrialParts, 'line'>;
  readonly reach: ReachDeps;
  readonly files: PageFiles;
  readonly signIn: SignIn;
  readonly site: Site;
  readonly needsSecondFactor: boolean;
  readonly log: Logger;
}

const LIVE = '/api/live';
const BODY_LIMIT = '64kb';

export function app({
  desk,
  line,
  trial,
  reach,
  files,
  signIn,
  site,
  needsSecondFactor,
  log,
}: AppDeps): Express {
  const server = express();
  server.disable('x-powered-by');
  server.disable('etag');
  server.set('trust proxy', site.trustedProxies ?? false);
  server.use(logRequests(log));
  server.use(securityHeaders(site), ownHostOnly(site), ownOriginOnly(site));
  const doors = gates({
    table: tableFor(desk.practice.mode),
    sessions: signIn.sessions,
    needsSecondFactor,
    refuse: refusing(desk, signIn.frame),
  });
  server.use(doors.gate);
  server.use(reachRoutes(reach));
  server.use(lineRoutes(line));
  server.use(
    signInRoutes(signIn, doors),
    codeRoutes(signIn),
    providerRoutes(signIn),
    profileRoutes(signIn, doors),
  );
  server.use(clinicianRoutes({ signIn, turn: desk.turn }, doors));
  server.use(joinRoutes(signIn, desk.practice.staff), staffRoutes(signIn, doors, desk.practice.staff));
  server.use(express.json({ limit: BODY_LIMIT, type: 'application/json' }));
  server.get(LIVE, desk.live.stream);
  server.use(trialPhone({ line, ...trial }));
  server.use(deskRouter({ deps: desk, whoOf: doors.whoOf, statusOf }));
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
