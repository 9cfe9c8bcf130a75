/** Reads forms, and hands the auth library's answers on. */
import { urlencoded, type Request, type Response } from 'express';
import { html, type Html } from './html.ts';

const FORM_LIMIT = '8kb';

/** A form that is too large or of another type is answered by the edge. */
export const readForm = urlencoded({ extended: false, limit: FORM_LIMIT });

export function handOnCookies(from: globalThis.Response, to: Response): void {
  for (const cookie of from.headers.getSetCookie()) to.append('Set-Cookie', cookie);
}

export function cookieOf(request: Request): Headers {
  return new Headers({ cookie: request.headers.cookie ?? '' });
}

export function cookieNamed(request: Request, name: string): string | undefined {
  const pair = (request.headers.cookie ?? '').split(/; */).find((one) => one.startsWith(`${name}=`));
  if (pair === undefined) return undefined;
  const value = pair.slice(name.length + 1);
  return /^[\w.%-]*$/.test(value) ? value : undefined;
}

/** A path of this site; anything else leads to its first page. */
export function ownPath(to: unknown): string {
  return typeof to === 'string' && /^\/(?![/\\])[\w\-./]*$/.test(to) ? to : '/';
}

export function form(action: string, fields: Html, button: string): Html {
  return html`<form method="post" action="${action}">
    ${fields}
    <p><button>${button}</button></p>
  </form>`;
}
