/** What everybody does for themselves: password, authenticator app, passkeys, PIN, signing out everywhere. */
import { json, Router, type Request, type Response } from 'express';
import { toString as qrCode } from 'qrcode';
import { z } from 'zod';
import type { Gates } from '../gates.ts';
import type { Act } from './acts.ts';
import { keepPin, isGoodPin } from './pins.ts';
import { cookieOf, handOnCookies, readForm } from './form.ts';
import { wrongWith } from './password-rules.ts';
import { setUpPage, showProfile } from './profile-page.ts';
import type { Session } from './sessions.ts';
import type { SignIn } from './sign-in.ts';
import { WORDS } from './words.ts';

const text = z.string().max(400);
const passwordSchema = z.object({ current: text, next: text });
const totpSchema = z.object({ password: text });
const codeSchema = z.object({ code: z.string().trim().max(12) });
const pinSchema = z.object({ password: text, pin: z.string().trim().max(12) });
const idSchema = z.object({ id: z.string().max(80) });
const setUpSchema = z.object({ totpURI: z.string(), backupCodes: z.array(z.string()) });
/** RegistrationResponseJSON (Web Authentication Level 3, 5.1); the library looks at what is in it. */
const newPasskeySchema = z.object({ response: z.record(z.string(), z.unknown()) });

export function profileRoutes(signIn: SignIn, { sessionOf }: Gates): Router {
  const router = Router();
  const { api } = signIn.auth;

  /** Done, written down, and looked up anew; or said that it was not. */
  const end = async (request: Request, response: Response, ended: Ended): Promise<void> => {
    const session = sessionOf(response);
    if (ended.wrong !== null) {
      await showProfile(signIn, session, { request, response, wrong: ended.wrong });
      return;
    }
    signIn.sessions.forget(session.user);
    await signIn.writeDown(request, { act: ended.act, who: session.who });
    if (ended.answer !== undefined) handOnCookies(ended.answer, response);
    response.redirect(303, '/profile?kept');
  };

  router.get('/profile', (request, response) =>
    showProfile(signIn, sessionOf(response), { request, response, wrong: null }),
  );
  router.post('/profile/password', readForm, async (request, response) => {
    const read = passwordSchema.safeParse(request.body);
    const rule = read.success ? ruleFor(signIn, sessionOf(response), read.data.next) : WORDS.unreadable;
    if (!read.success || rule !== null)
      return end(request, response, { act: 'password changed', wrong: rule });
    const body = {
      currentPassword: read.data.current,
      newPassword: read.data.next,
      revokeOtherSessions: true,
    };
    const answer = await api.changePassword({ body, headers: cookieOf(request), asResponse: true });
    return end(request, response, ended('password changed', answer));
  });
  router.post('/profile/totp', readForm, async (request, response) => {
    const read = totpSchema.safeParse(request.body);
    const answer = read.success
      ? await api.enableTwoFactor({ body: read.data, headers: cookieOf(request), asResponse: true })
      : null;
    if (answer?.ok !== true) {
      return end(request, response, { act: 'second factor set up', wrong: WORDS.profile.wrong });
    }
    const { totpURI, backupCodes } = setUpSchema.parse(await answer.json());
    const qr = await qrCode(totpURI, { type: 'svg', margin: 2 });
    setUpPage(signIn, response, { qr, key: new URL(totpURI).searchParams.get('secret') ?? '', backupCodes });
  });
  router.post('/profile/totp/confirm', readForm, async (request, response) => {
    const read = codeSchema.safeParse(request.body);
    const { user } = sessionOf(response);
    const answer = read.success
      ? await api.verifyTOTP({ body: read.data, headers: cookieOf(request), asResponse: true })
      : null;
    const isRight = answer?.ok === true && read.success && (await signIn.claimCode(user, read.data.code));
    return end(request, response, ended('second factor set up', isRight ? answer : null));
  });
  router.post('/profile/totp/remove', readForm, async (request, response) => {
    const read = totpSchema.safeParse(request.body);
    const answer = read.success
      ? await api.disableTwoFactor({ body: read.data, headers: cookieOf(request), asResponse: true })
      : null;
    return end(request, response, ended('second factor removed', answer));
  });
  router.get('/profile/passkey-options', async (request, response) => {
    const answer = await api.generatePasskeyRegistrationOptions({
      headers: cookieOf(request),
      asResponse: true,
    });
    handOnCookies(answer, response);
    response.setHeader('Cache-Control', 'no-store');
    response.status(answer.status).json(await answer.json());
  });
  router.post('/profile/passkey', json({ limit: '32kb' }), async (request, response) => {
    const body = newPasskeySchema.safeParse(request.body);
    const answer = body.success
      ? await api.verifyPasskeyRegistration({ body: body.data, headers: cookieOf(request), asResponse: true })
      : null;
    if (answer?.ok !== true) {
      response.status(400).json({ done: false });
      return;
    }
    const { who } = sessionOf(response);
    await signIn.writeDown(request, { act: 'passkey added', who });
    response.json({ done: true });
  });
  router.post('/profile/passkey/remove', readForm, async (request, response) => {
    const read = idSchema.safeParse(request.body);
    const answer = read.success
      ? await api.deletePasskey({ body: read.data, headers: cookieOf(request), asResponse: true })
      : null;
    return end(request, response, ended('passkey removed', answer));
  });
  router.post('/profile/pin', readForm, async (request, response) => {
    const read = pinSchema.safeParse(request.body);
    if (!read.success || !isGoodPin(read.data.pin)) {
      return end(request, response, { act: 'PIN changed', wrong: WORDS.profile.pinWrong });
    }
    const { password, pin } = read.data;
    const body = { password };
    const answer = await api.verifyPassword({ body, headers: cookieOf(request), asResponse: true });
    if (answer.ok) await keepPin(signIn.database, { staff: sessionOf(response).who.id, pin });
    return end(request, response, ended('PIN changed', answer));
  });
  router.post('/sign-out/everywhere', async (request, response) => {
    const { user, who } = sessionOf(response);
    const { internalAdapter } = await signIn.auth.$context;
    await internalAdapter.deleteUserSessions(user);
    signIn.sessions.forget(user);
    await signIn.writeDown(request, { act: 'signed out everywhere', who });
    response.redirect(303, '/sign-in');
  });
  return router;
}

interface Ended {
  readonly act: Act;
  readonly wrong: string | null;
  readonly answer?: globalThis.Response;
}

function ended(act: Act, answer: globalThis.Response | null): Ended {
  if (answer?.ok !== true) return { act, wrong: WORDS.profile.wrong };
  return { act, wrong: null, answer };
}

function ruleFor({ frame }: SignIn, { who }: Session, next: string): string | null {
  return wrongWith(next, [who.id, who.name, frame.practice]);
}
