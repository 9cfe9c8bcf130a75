/** Signing in with a password, and signing out. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Router, type Request, type Response } from 'express';
import { z } from 'zod';
import type { Gates } from '../gates.ts';
import { accountNamed, addressOf, signInName } from './accounts.ts';
import { cookieNamed, cookieOf, form, handOnCookies, ownPath, readForm } from './form.ts';
import { html, type Html } from './html.ts';
import { field, passkeyButton, sendPage } from './page.ts';
import type { SignIn } from './sign-in.ts';
import { WORDS } from './words.ts';

const DEVICE_COOKIE = 'call-desk.device';
const DEVICE_DAYS = 90;

const signInSchema = z.object({
  name: z.string().max(200).transform(signInName),
  password: z.string().max(400),
  to: z.string().max(400).exactOptional(),
});

const nextStepSchema = z.object({ twoFactorRedirect: z.boolean().exactOptional() });

export function signInRoutes(signIn: SignIn, { sessionOf }: Gates): Router {
  const router = Router();
  router.get('/sign-in', (request, response) => {
    const { ended: isEnded, error } = request.query;
    const refused = error === undefined ? null : WORDS.signIn.providerRefused;
    const ended = isEnded === undefined ? refused : WORDS.signIn.ended;
    showSignIn(signIn, response, { to: ownPath(request.query['to']), wrong: ended, status: 200 });
  });
  const style = readFileSync(join(import.meta.dirname, 'sign-in.css'), 'utf8');
  router.get('/sign-in.css', (_request, response) => {
    response.setHeader('Cache-Control', 'no-cache');
    response.type('text/css').send(style);
  });
  const script = readFileSync(join(import.meta.dirname, 'passkey.js'), 'utf8');
  router.get('/passkey.js', (_request, response) => {
    response.setHeader('Cache-Control', 'no-cache');
    response.type('text/javascript').send(script);
  });
  router.post('/sign-in', readForm, (request, response) => signInBy(signIn, request, response));
  router.post('/sign-out', async (request, response) => {
    const { who, user, token } = sessionOf(response);
    const { internalAdapter } = await signIn.auth.$context;
    await internalAdapter.deleteSession(token);
    signIn.sessions.forget(user);
    await signIn.writeDown(request, { act: 'signed out', who });
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

function showSignIn(
  { frame, isDemo, hasProvider }: SignIn,
  response: Response,
  { to, wrong, status }: Shown,
): void {
  sendPage(response, frame, {
    title: WORDS.signIn.title,
    status,
    notice: wrong === null ? null : { kind: 'wrong', text: wrong },
    script: true,
    body: html`${passwordForm(to)} ${passkeyButton('sign-in', to)}
    ${hasProvider ? html`<p><a href="/sign-in/provider">${WORDS.signIn.provider}</a></p>` : null}
    ${isDemo ? html`<p>${WORDS.signIn.demo}</p>` : null}`,
  });
}

function passwordForm(to: string): Html {
  return form(
    '/sign-in',
    html`<input type="hidden" name="to" value="${to}" />
      ${field(WORDS.signIn.name, { name: 'name', autocomplete: 'username', spellcheck: 'false' })}
      ${field(WORDS.signIn.password, { name: 'password', type: 'password', autocomplete: 'current-password' })}`,
    WORDS.signIn.go,
  );
}

async function signInBy(signIn: SignIn, request: Request, response: Response): Promise<void> {
  const read = signInSchema.safeParse(request.body);
  if (!read.success) {
    showSignIn(signIn, response, { to: '/', wrong: WORDS.unreadable, status: 400 });
    return;
  }
  const { name, password, to } = read.data;
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
      await signIn.writeDown(request, { act: 'sign-in refused', who: await accountNamed(signIn.auth, name) });
      say(WORDS.signIn.refused, 401);
      return;
    }
    handOnCookies(answer, response);
    setDevice(signIn, response, name);
    const { twoFactorRedirect } = nextStepSchema.parse(await answer.clone().json());
    if (twoFactorRedirect === true) {
      response.redirect(303, `/sign-in/code?to=${encodeURIComponent(ownPath(to))}`);
      return;
    }
    await signIn.writeDown(request, { act: 'signed in', who: await accountNamed(signIn.auth, name) });
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
