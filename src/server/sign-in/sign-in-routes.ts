/** Signing in with a password, and signing out. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Router, urlencoded, type Request, type Response } from 'express';
import { z } from 'zod';
import type { Gates } from '../gates.ts';
import { accountNamed, addressOf, signInName } from './accounts.ts';
import { html } from './html.ts';
import { field, sendPage } from './page.ts';
import type { SignIn } from './sign-in.ts';
import { WORDS } from './words.ts';

const FORM_LIMIT = '8kb';
const DEVICE_COOKIE = 'call-desk.device';
const DEVICE_DAYS = 90;

const signInSchema = z.object({
  name: z.string().max(200).transform(signInName),
  password: z.string().max(400),
  to: z.string().max(400).exactOptional(),
});

/** Reads a form; one that is too large or of another type is answered by the edge. */
export const readForm = urlencoded({ extended: false, limit: FORM_LIMIT });

export function signInRoutes(signIn: SignIn, { sessionOf }: Gates): Router {
  const router = Router();
  router.get('/sign-in', (request, response) => {
    const ended = request.query['ended'] === undefined ? null : WORDS.signIn.ended;
    showSignIn(signIn, response, { to: ownPath(request.query['to']), wrong: ended, status: 200 });
  });
  const style = readFileSync(join(import.meta.dirname, 'sign-in.css'), 'utf8');
  router.get('/sign-in.css', (_request, response) => {
    response.setHeader('Cache-Control', 'no-cache');
    response.type('text/css').send(style);
  });
  router.post('/sign-in', readForm, (request, response) => signInBy(signIn, request, response));
  router.post('/sign-out', async (request, response) => {
    const { user, token } = sessionOf(response);
    const { internalAdapter } = await signIn.auth.$context;
    await internalAdapter.deleteSession(token);
    signIn.sessions.forget(user);
    const signedOut = await signIn.auth.api.signOut({ headers: cookieOf(request), asResponse: true });
    handOnCookies(signedOut, response);
    response.redirect(303, '/sign-in');
  });
  return router;
}

interface Shown {
  readonly to: string;
  readonly wrong: string | null;
  readonly status: number;
}

function showSignIn({ frame, isDemo }: SignIn, response: Response, { to, wrong, status }: Shown): void {
  sendPage(response, frame, {
    title: WORDS.signIn.title,
    status,
    notice: wrong === null ? null : { kind: 'wrong', text: wrong },
    body: html`<form method="post" action="/sign-in">
        <input type="hidden" name="to" value="${to}" />
        ${field(WORDS.signIn.name, { name: 'name', autocomplete: 'username webauthn', spellcheck: 'false' })}
        ${field(WORDS.signIn.password, { name: 'password', type: 'password', autocomplete: 'current-password' })}
        <p><button>${WORDS.signIn.go}</button></p>
      </form>
      ${isDemo ? html`<p>${WORDS.signIn.demo}</p>` : null}`,
  });
}

async function signInBy(signIn: SignIn, request: Request, response: Response): Promise<void> {
  const form = signInSchema.safeParse(request.body);
  if (!form.success) {
    showSignIn(signIn, response, { to: '/', wrong: WORDS.unreadable, status: 400 });
    return;
  }
  const { name, password, to } = form.data;
  const say = (wrong: string, status: number): void =>
    showSignIn(signIn, response, { to: ownPath(to), wrong, status });
  const attempt = { name, address: request.ip ?? '', device: cookieNamed(request, DEVICE_COOKIE) };
  try {
    if (!(await signIn.limits.mayTry(attempt))) {
      say(WORDS.signIn.tooMany, 429);
      return;
    }
    const answer = await tryPassword(signIn, request, { name, password });
    if (answer === null) {
      await signIn.limits.wasWrong(attempt);
      say(WORDS.signIn.refused, 401);
      return;
    }
    handOnCookies(answer, response);
    setDevice(signIn, response, name);
    response.redirect(303, ownPath(to));
  } catch {
    say(WORDS.signIn.down, 503);
  }
}

interface Typed {
  readonly name: string;
  readonly password: string;
}

/** Null when name and password do not fit; rejects when that cannot be known now. */
async function tryPassword(
  { auth }: SignIn,
  request: Request,
  { name, password }: Typed,
): Promise<globalThis.Response | null> {
  const account = await accountNamed(auth, name);
  const answer = await auth.api.signInEmail({
    body: { email: addressOf(account?.disabled === true ? `${name}.disabled` : name), password },
    headers: cookieOf(request),
    asResponse: true,
  });
  if (answer.status >= 500) throw new Error('The sign-in’s database did not answer.');
  return answer.ok ? answer : null;
}

function setDevice({ limits, isSecure }: SignIn, response: Response, name: string): void {
  response.cookie(DEVICE_COOKIE, limits.deviceFor(name), {
    httpOnly: true,
    sameSite: 'strict',
    secure: isSecure,
    path: '/sign-in',
    maxAge: DEVICE_DAYS * 24 * 3_600_000,
  });
}

export function handOnCookies(from: globalThis.Response, to: Response): void {
  for (const cookie of from.headers.getSetCookie()) to.append('Set-Cookie', cookie);
}

export function cookieOf(request: Request): Headers {
  return new Headers({ cookie: request.headers.cookie ?? '' });
}

function cookieNamed(request: Request, name: string): string | undefined {
  const pair = (request.headers.cookie ?? '').split(/; */).find((one) => one.startsWith(`${name}=`));
  return pair === undefined ? undefined : decodeURIComponent(pair.slice(name.length + 1));
}

/** A path of this site; anything else leads to its first page. */
function ownPath(to: unknown): string {
  return typeof to === 'string' && /^\/(?![/\\])[\w\-./]*$/.test(to) ? to : '/';
}
