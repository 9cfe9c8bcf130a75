/** Signing in with the practice's own accounts (OpenID Connect): there and back, for people who have an account here already. */
import { Router } from 'express';
import { z } from 'zod';
import { cookieOf, handOnCookies } from './form.ts';
import type { SignIn } from './sign-in.ts';
import { OIDC_ID } from './auth.ts';

const beginSchema = z.object({ url: z.url() });

export function providerRoutes(signIn: SignIn): Router {
  const router = Router();
  const { auth, url } = signIn;
  router.get('/sign-in/provider', async (request, response) => {
    const body = { provider: OIDC_ID, callbackURL: `${url}/`, errorCallbackURL: `${url}/sign-in` };
    const answer = await auth.api.signInSocial({ body, headers: cookieOf(request), asResponse: true });
    const begun = answer.ok ? beginSchema.safeParse(await answer.clone().json()) : null;
    if (begun?.success !== true) {
      response.redirect(303, '/sign-in?error');
      return;
    }
    handOnCookies(answer, response);
    response.redirect(303, begun.data.url);
  });
  router.get(`/auth/callback/${OIDC_ID}`, async (request, response) => {
    const answer = await auth.handler(
      new globalThis.Request(new URL(request.originalUrl, url), { headers: cookieOf(request) }),
    );
    handOnCookies(answer, response);
    const session = answer.headers.getSetCookie().map((cookie) => cookie.split(';')[0]);
    const found = await signIn.sessions.find(session.join('; '));
    const who = found === 'down' ? null : (found.session?.who ?? null);
    await signIn.writeDown(request, { act: who === null ? 'sign-in refused' : 'signed in', who });
    response.redirect(303, who === null ? '/sign-in?error' : '/');
  });
  return router;
}
