/** What every request passes first: which host it names, where a change comes from, and the headers of every answer. */
import type { NextFunction, Request, Response } from 'express';

/** Everything from this server only; nothing inline. */
const CONTENT_POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self'",
  "connect-src 'self'",
  "form-action 'none'",
  "base-uri 'none'",
  "frame-ancestors 'none'",
].join('; ');

/** A header that a page of another origin cannot send without being asked first, which is refused. */
const OWN_HEADER = 'x-call-desk';

export function securityHeaders(_request: Request, response: Response, next: NextFunction): void {
  response.setHeader('Content-Security-Policy', CONTENT_POLICY);
  response.setHeader('X-Content-Type-Options', 'nosniff');
  response.setHeader('Referrer-Policy', 'no-referrer');
  response.setHeader('X-Frame-Options', 'DENY');
  response.setHeader('Cross-Origin-Resource-Policy', 'same-origin');
  response.setHeader('Cross-Origin-Opener-Policy', 'same-origin');
  next();
}

/** Another name that leads to this machine is refused, so that no outside page can pose as this one. */
export function localHostOnly(request: Request, response: Response, next: NextFunction): void {
  if (request.hostname === '127.0.0.1' || request.hostname === 'localhost') {
    next();
    return;
  }
  refuse(response, 'The address of this request is not this desk’s own.');
}

export function ownOriginOnly(request: Request, response: Response, next: NextFunction): void {
  if (request.method === 'GET' || request.method === 'HEAD' || isOwn(request)) {
    next();
    return;
  }
  refuse(response, 'A change is accepted from the desk’s own page only.');
}

function isOwn(request: Request): boolean {
  const origin = request.get('origin');
  if (origin === undefined) return request.get(OWN_HEADER) !== undefined;
  return origin === `${request.protocol}://${request.get('host') ?? ''}`;
}

function refuse(response: Response, message: string): void {
  response.status(403).json({ fault: { code: 'bad-request', message }, ring: [] });
}
