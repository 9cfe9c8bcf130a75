/** The pages of one escalation on the clinician's telephone: the PIN, the handover, accepting, confirming. */
import type { Response } from 'express';
import { writeHandover } from '../../call/handover.ts';
import { standingOf } from '../../call/step.ts';
import type { Showing } from './clinician-routes.ts';
import { form } from './form.ts';
import { html, type Html } from './html.ts';
import { field, sendPage } from './page.ts';
import type { SignIn } from './sign-in.ts';
import { WORDS } from './words.ts';

const words = WORDS.clinician;

export function showGone({ frame }: SignIn, response: Response): void {
  sendPage(response, frame, { title: words.title, status: 410, body: html`<p>${words.gone}</p>` });
}

interface PinPage {
  readonly secret: string;
  readonly wrong: string | null;
}

/** Nothing of the call: whoever finds the telephone sees that somebody is paged, and no more. */
export function showPin({ frame }: SignIn, response: Response, { secret, wrong }: PinPage): void {
  const pin = {
    name: 'pin',
    type: 'password',
    inputmode: 'numeric',
    pattern: '[0-9]{6}',
    autocomplete: 'off',
  };
  sendPage(response, frame, {
    title: words.title,
    status: wrong === null ? 200 : 401,
    notice: wrong === null ? null : { kind: 'wrong', text: wrong },
    body: form(`/clinician/${secret}`, field(words.pin, pin), words.open),
  });
}

export function showEscalation({ signIn, response, at, said }: Showing): void {
  const { runner, snapshot, patient, operation } = at.loaded;
  const standing = standingOf(runner, snapshot);
  const handover = writeHandover(runner.compiled.flow, standing, { patient, operation });
  const { context } = standing;
  const isConfirmed = context.accepted !== null && context.accepted.reported !== true;
  sendPage(response, signIn.frame, {
    title: words.title,
    status: said === 'refused' ? 409 : 200,
    notice: noticeOf(said),
    body: html`<dl>
        ${Object.entries(handover).map(
          ([part, text]) =>
            html`<dt>${part}</dt>
              <dd>${String(text)}</dd>`,
        )}
      </dl>
      <p>${words.number}: ${context.facts['call-back-number'] ?? ''}</p>
      ${isConfirmed ? html`<p>${words.accepted}</p>` : form(`/clinician/${at.secret}/accept`, html``, words.accept)}
      ${context.loweringAsked === null ? null : loweringPart(at.secret)}`,
  });
}

function loweringPart(secret: string): Html {
  return form(
    `/clinician/${secret}/lower`,
    field(words.why, { name: 'why', autocomplete: 'off' }),
    words.lower,
  );
}

function noticeOf(said: Showing['said']): { readonly kind: 'wrong' | 'done'; readonly text: string } | null {
  if (said === null) return null;
  if (said === 'refused') return { kind: 'wrong', text: words.refused };
  return { kind: 'done', text: said.kind === 'lower' ? words.lowered : words.accepted };
}
