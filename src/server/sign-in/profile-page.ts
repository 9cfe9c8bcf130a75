/** The page on which everybody looks after their own way in. */
import type { Request, Response } from 'express';
import { cookieOf, form } from './form.ts';
import { html, type Html } from './html.ts';
import { field, passkeyButton, sendPage } from './page.ts';
import type { Session } from './sessions.ts';
import type { SignIn } from './sign-in.ts';
import { WORDS } from './words.ts';

const words = WORDS.profile;

interface Showing {
  readonly request: Request;
  readonly response: Response;
  readonly wrong: string | null;
}

export async function showProfile(
  signIn: SignIn,
  session: Session,
  { request, response, wrong }: Showing,
): Promise<void> {
  const passkeys = await signIn.auth.api.listPasskeys({ headers: cookieOf(request) });
  const isKept = request.query['kept'] !== undefined;
  const isNeeded = signIn.needsSecondFactor && !session.strong;
  sendPage(response, signIn.frame, {
    title: words.title,
    status: wrong === null ? 200 : 400,
    script: true,
    notice:
      wrong !== null
        ? { kind: 'wrong', text: wrong }
        : isNeeded
          ? { kind: 'wrong', text: words.needed }
          : isKept
            ? { kind: 'done', text: words.changed }
            : null,
    body: html`<p>
        ${WORDS.signedInAs} ${session.who.name} (${session.who.role}). <a href="/">${WORDS.toDesk}</a>
      </p>
      ${session.who.role === 'administrator' ? html`<p><a href="/staff">${words.staff}</a></p>` : null}
      ${totpPart(session)}
      <h2>${words.passkeys}</h2>
      ${passkeys.map(({ id, name, createdAt }) => passkeyPart({ id, label: name ?? dayOf(createdAt) }))}
      ${passkeyButton('add', '/profile?kept')} ${passwordPart()}
      ${session.who.role === 'on-call-clinician' ? pinPart() : null}
      <h2>${WORDS.signOut}</h2>
      ${form('/sign-out', html``, WORDS.signOut)} ${form('/sign-out/everywhere', html``, words.everywhere)}`,
  });
}

function dayOf(at: Date | string): string {
  return new Date(at).toISOString().slice(0, 10);
}

function totpPart({ hasSecondFactor }: Session): Html {
  const password = field(words.current, {
    name: 'password',
    type: 'password',
    autocomplete: 'current-password',
  });
  return html`<h2>${words.totp}</h2>
    <p>${hasSecondFactor ? words.totpOn : words.totpOff}</p>
    ${
      hasSecondFactor
        ? form('/profile/totp/remove', password, words.totpRemove)
        : form('/profile/totp', password, words.totpBegin)
    }`;
}

function passkeyPart({ id, label }: { readonly id: string; readonly label: string }): Html {
  const hidden = html`<input type="hidden" name="id" value="${id}" />`;
  return html`<p>${label}</p>
    ${form('/profile/passkey/remove', hidden, words.passkeyRemove)}`;
}

function passwordPart(): Html {
  const fields = html`${field(words.current, { name: 'current', type: 'password', autocomplete: 'current-password' })}
  ${field(words.next, { name: 'next', type: 'password', autocomplete: 'new-password' })}`;
  return html`<h2>${words.password}</h2>
    ${form('/profile/password', fields, words.password)}`;
}

function pinPart(): Html {
  const fields = html`${field(words.current, { name: 'password', id: 'pin-password', type: 'password', autocomplete: 'current-password' })}
  ${field(words.pinLabel, { name: 'pin', inputmode: 'numeric', pattern: '[0-9]{6}', autocomplete: 'off' })}`;
  return html`<h2>${words.pin}</h2>
    ${form('/profile/pin', fields, words.pinGo)}`;
}

interface SetUp {
  readonly qr: string;
  readonly key: string;
  readonly backupCodes: readonly string[];
}

/** Shown once: neither the key nor the spare codes can be read again. */
export function setUpPage({ frame }: SignIn, response: Response, { qr, key, backupCodes }: SetUp): void {
  sendPage(response, frame, {
    title: words.totp,
    body: html`<p>${words.totpScan}</p>
      <div class="qr">${{ html: qr }}</div>
      <p>${words.totpKey} <code>${key}</code></p>
      ${form(
        '/profile/totp/confirm',
        field(words.totpCode, { name: 'code', inputmode: 'numeric', autocomplete: 'one-time-code' }),
        words.totpConfirm,
      )}
      <p>${words.spare}</p>
      <ul>
        ${backupCodes.map((code) => html`<li><code>${code}</code></li>`)}
      </ul>`,
  });
}
