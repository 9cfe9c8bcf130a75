/** What every request passes first: which host it names, where a change comes from, and the headers of every answer. */
import type { NextFunction, Request, RequestHandler, Response } from 'express';
import helmet from 'helmet';
import { isIP } from 'node:net';

/** How this server is reached. */
export interface Site {
  /** What browsers call it; its name is the only one accepted besides this machine's own. */
  readonly url: string;
  /** As Express reads them; null trusts no proxy's word on where a request comes from. */
  readonly trustedProxies: string | null;
}

/** A header that a page of another origin cannot send without being asked first, which is refused. */
const OWN_HEADER = 'x-call-desk';

const OWN = ["'self'"];
const NOTHING = ["'none'"];

/** Everything from this server only; nothing inline. */
export function securityHeaders({ url }: Site): RequestHandler {
  const isSecure = url.startsWith('https:');
  return helmet({
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        'default-src': NOTHING,
        'script-src': OWN,
        'style-src': OWN,
        'img-src': OWN,
        'font-src': OWN,
        'connect-src': OWN,
        'form-action': OWN,
        'base-uri': NOTHING,
        'frame-ancestors': NOTHING,
        'object-src': NOTHING,
      },
    },
    // A form's own origin goes along with it; no address goes to another site.
    referrerPolicy: { policy: 'same-origin' },
    strictTransportSecurity: isSecure ? { maxAge: 31_536_000 } : false,
    xFrameOptions: { action: 'deny' },
  });
}

/** Another name that leads to this machine is refused, so that no outside page can pose as this one; a bare address is no name. */
export function ownHostOnly({ url }: Site): RequestHandler {
  const names = new Set(['localhost', new URL(url).hostname]);
  return (request, response, next) => {
    const host = (request.hostname || '').replace(/^\[|\]$/g, '');
    if (names.has(host) || isIP(host) !== 0) next();
    else refuse(response, 'The address of this request is not this desk’s own.');
  };
}

export function ownOriginOnly({ url }: Site): RequestHandler {
  const { origin } = new URL(url);
  return (request: Request, response: Response, next: NextFunction) => {
    const isReading = request.method === 'GET' || request.method === 'HEAD';
    if (isReading || isProviders(request) || isOwn(request, origin)) next();
    else refuse(response, 'A change is accepted from the desk’s own page only.');
  };
}

/** The telephone provider is no browser: it signs what it sends, and its routes look at nothing else. */
function isProviders({ path }: Request): boolean {
  return /^\/(line|text)\//.test(path);
}

// Fetch Metadata Request Headers (W3C): a browser says itself when another site made the request.
function isOwn(request: Request, own: string): boolean {
  const site = request.get('sec-fetch-site');
  if (site !== undefined && site !== 'same-origin') return false;
  const origin = request.get('origin');
  if (origin === undefined) return request.get(OWN_HEADER) !== undefined;
  return origin === own || origin === `${request.protocol}://${request.get('host') ?? ''}`;
}

function refuse(response: Response, message: string): void {
  response.status(403).json({ fault: { code: 'bad-request', message }, ring: [] });
}
