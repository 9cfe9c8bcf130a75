/** How a request that is not let through is answered: a fault for the page's script, a page or the way to sign in for people. */
import type { Request, Response } from 'express';
import type { DeskDeps } from '../desk/deps.ts';
import { faultShape } from '../desk/router.ts';
import { statusOf } from './errors.ts';
import type { Refusal } from './gates.ts';
import { html } from './sign-in/html.ts';
import { sendPage, type Frame } from './sign-in/page.ts';
import { WORDS } from './sign-in/words.ts';

export function refusing(deps: DeskDeps, frame: Frame) {
  return (request: Request, response: Response, { why, fault, session }: Refusal): void => {
    response.setHeader('Cache-Control', 'no-store');
    if (request.path.startsWith('/api/')) {
      // Whom to ring is the practice's own: a stranger is not told.
      const shape = faultShape(deps, fault);
      response.status(statusOf(fault.code)).json(session === null ? { ...shape, ring: [] } : shape);
      return;
    }
    if (why === 'signed-out' && request.method === 'GET') {
      response.redirect(303, `/sign-in?to=${encodeURIComponent(request.path)}`);
      return;
    }
    if (why === 'needs-second-factor') {
      response.redirect(303, '/profile');
      return;
    }
    sendPage(response, frame, {
      title: WORDS.refused[why],
      status: statusOf(fault.code),
      body: html`<p>${fault.message}</p>
        <p><a href="/">${WORDS.toDesk}</a></p>`,
    });
  };
}
