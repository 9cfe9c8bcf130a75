/** The frame of every page around signing in: small, without a script unless a passkey needs one. */
import type { Response } from 'express';
import { html, type Html } from './html.ts';
import { WORDS } from './words.ts';

export interface Frame {
  readonly practice: string;
  readonly emergency: string;
}

export interface PageParts {
  readonly title: string;
  readonly body: Html;
  /** One sentence that went wrong or was done. */
  readonly notice?: { readonly kind: 'wrong' | 'done'; readonly text: string } | null;
  readonly status?: number;
  readonly script?: boolean;
}

export function sendPage(response: Response, frame: Frame, page: PageParts): void {
  response.setHeader('Cache-Control', 'no-store');
  response
    .status(page.status ?? 200)
    .type('html')
    .send(written(frame, page).html);
}

function written(frame: Frame, { title, body, notice = null, script = false }: PageParts): Html {
  return html`<!doctype html>
    <html lang="en-GB">
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <title>${title}, ${frame.practice}</title>
        <link rel="stylesheet" href="/sign-in.css" />
        ${script ? html`<script type="module" src="/passkey.js"></script>` : null}
      </head>
      <body>
        <header>
          <p class="practice">${frame.practice}: ${WORDS.desk}</p>
          <p class="emergency">${WORDS.emergency} <strong>${frame.emergency}</strong></p>
        </header>
        <main>
          <h1>${title}</h1>
          ${notice === null ? null : html`<p class="${notice.kind}" role="alert">${notice.text}</p>`} ${body}
        </main>
      </body>
    </html>`;
}

/** A labelled field of a form. */
export function field(
  label: string,
  {
    name,
    id = name,
    ...attributes
  }: { readonly name: string; readonly id?: string } & Readonly<Record<string, string>>,
): Html {
  const more = Object.entries(attributes).map(([key, value]) => html` ${key}="${value}"`);
  return html`<p><label for="${id}">${label}</label><input id="${id}" name="${name}" required${more} /></p>`;
}

/** Shown by its script only where the browser knows passkeys. */
export function passkeyButton(act: 'sign-in' | 'add', then: string): Html {
  const label = act === 'add' ? WORDS.profile.passkeyAdd : WORDS.signIn.passkey;
  return html`<p>
    <button type="button" data-passkey="${act}" data-then="${then}" hidden>${label}</button>
    <span role="status" data-wrong="${WORDS.signIn.passkeyRefused}"></span>
  </p>`;
}
