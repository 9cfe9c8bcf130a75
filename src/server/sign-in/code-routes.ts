/** The second step of signing in: a code of the authenticator app, or a spare code; and passkeys, which need no other step. */
import { json, Router, type Request, type Response } from 'express';
import { z } from 'zod';
import { cookieOf, form, handOnCookies, ownPath, readForm } from './form.ts';
import { html } from './html.ts';
import { field, sendPage } from './page.ts';
import type { SignIn } from './sign-in.ts';
import { WORDS } from './words.ts';
import { accountOfUser } from './accounts.ts';

const codeSchema = z.object({
  code: z
    .string()
    .max(40)
    .transform((typed) => typed.replaceAll(' ', '')),
  to: z.string().max(400).exactOptional(),
});
const passedSchema = z.object({ token: z.string(), user: z.object({ id: z.string() }) });
/** AuthenticationResponseJSON (Web Authentication Level 3, 5.1). */
const passkeySchema = z.object({
  response: z.object({
    id: z.string(),
    rawId: z.string(),
    response: z.object({
      clientDataJSON: z.string(),
      authenticatorData: z.string(),
      signature: z.string(),
      userHandle: z.string().exactOptional(),
    }),
    clientExtensionResults: z.object({}),
    type: z.literal('public-key'),
  }),
});
const passkeyAnswerSchema = z.object({ session: z.object({ userId: z.string() }) });

export function codeRoutes(signIn: SignIn): Router {
  const router = Router();
  const { api } = signIn.auth;
  router.get('/sign-in/code', (request, response) => {
    showCode(signIn, response, { to: ownPath(request.query['to']), wrong: null });
  });
  router.post('/sign-in/code', readForm, (request, response) => takeCode(signIn, request, response));
  router.get('/sign-in/passkey-options', async (request, response) => {
    const answer = await api.generatePasskeyAuthenticationOptions({
      headers: cookieOf(request),
      asResponse: true,
    });
    handOnCookies(answer, response);
    response.setHeader('Cache-Control', 'no-store');
    response.status(answer.status).json(await answer.json());
  });
  router.post('/sign-in/passkey', json({ limit: '32kb' }), async (request, response) => {
    const body = passkeySchema.safeParse(request.body);
    const answer = body.success
      ? await api.verifyPasskeyAuthentication({
          body: body.data,
          headers: cookieOf(request),
          asResponse: true,
        })
      : null;
    if (answer?.ok !== true) {
      await signIn.writeDown(request, { act: 'sign-in refused', who: null });
      response.status(401).json({ done: false });
      return;
    }
    const { session } = passkeyAnswerSchema.parse(await answer.clone().json());
    await signIn.writeDown(request, {
      act: 'signed in',
      who: await accountOfUser(signIn.auth, session.userId),
    });
    handOnCookies(answer, response);
    response.json({ done: true });
  });
  return router;
}

interface Shown {
  readonly to: string;
  readonly wrong: string | null;
}

function showCode({ frame }: SignIn, response: Response, { to, wrong }: Shown): void {
  sendPage(response, frame, {
    title: WORDS.code.title,
    status: wrong === null ? 200 : 401,
    notice: wrong === null ? null : { kind: 'wrong', text: wrong },
    body: form(
      '/sign-in/code',
      html`<input type="hidden" name="to" value="${to}" />
        ${field(WORDS.code.label, { name: 'code', autocomplete: 'one-time-code', spellcheck: 'false' })}`,
      WORDS.code.go,
    ),
  });
}

async function takeCode(signIn: SignIn, request: Request, response: Response): Promise<void> {
  const read = codeSchema.safeParse(request.body);
  const to = ownPath(read.data?.to);
  const passed = read.success ? await verified(signIn, request, read.data.code) : null;
  if (passed === null) {
    await signIn.writeDown(request, { act: 'sign-in refused', who: null });
    showCode(signIn, response, { to, wrong: WORDS.code.wrong });
    return;
  }
  await signIn.writeDown(request, { act: 'signed in', who: await accountOfUser(signIn.auth, passed.user) });
  handOnCookies(passed.answer, response);
  response.redirect(303, to);
}

interface Passed {
  readonly answer: globalThis.Response;
  readonly user: string;
}

/** Null for a wrong code, and for a right one that was used before. */
async function verified({ auth, claimCode }: SignIn, request: Request, code: string): Promise<Passed | null> {
  const call = { body: { code }, headers: cookieOf(request), asResponse: true } as const;
  const isTotp = /^\d{6}$/.test(code);
  const answer = await (isTotp ? auth.api.verifyTOTP(call) : auth.api.verifyBackupCode(call));
  if (!answer.ok) return null;
  const { token, user } = passedSchema.parse(await answer.clone().json());
  if (await claimCode(user.id, code)) return { answer, user: user.id };
  const { internalAdapter } = await auth.$context;
  await internalAdapter.deleteSession(token);
  return null;
}
