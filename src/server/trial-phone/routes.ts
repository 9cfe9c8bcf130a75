/**
 * The trial phone: a page that plays the provider against this server's own webhooks. The server signs what the page
 * sends, so the key never leaves it; what is signed here is a trial call and nothing else.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Router, type Request, type Response } from 'express';
import twilio from 'twilio';
import { z } from 'zod';
import { TRIAL_ACCOUNT } from '../../line/incoming.ts';
import type { LineDeps } from '../../line/deps.ts';
import { html } from '../sign-in/html.ts';
import { phoneScript } from './script.ts';
import type { Speech } from './speech.ts';
import { WORDS } from './words.ts';

export interface TrialParts {
  readonly line: LineDeps;
  readonly speech: Speech;
  /** Where this server listens, without a slash at the end. */
  readonly address: () => string;
}

const web = join(import.meta.dirname, '..', '..', 'web');

const sendSchema = z.object({
  to: z
    .string()
    .max(4000)
    .regex(/^\/line\/(incoming|turn|dial|whisper|accept|status)(\?|$)/),
  params: z
    .record(z.string().max(40), z.string().max(2000))
    .refine(({ CallSid }) => /^CA[0-9a-f]{32}$/.test(CallSid ?? ''), 'the id of a trial call'),
});

const SAID_AT_MOST = 1000;

export function trialPhone(parts: TrialParts): Router {
  const router = Router();
  let script: Promise<string> | null = null;
  router.get('/trial-phone', (_request, response) => sendPhone(parts, response));
  router.get('/trial-phone.js', async (_request, response) => {
    script ??= phoneScript();
    response.setHeader('Cache-Control', 'no-cache');
    response.type('text/javascript').send(await script);
  });
  router.get('/trial-phone.css', (_request, response) => {
    response.setHeader('Cache-Control', 'no-cache');
    response.type('text/css').send(readFileSync(join(web, 'style', 'trial-phone.css'), 'utf8'));
  });
  router.get('/trial-phone/say', (request, response) => say(parts, request, response));
  router.post('/trial-phone/send', (request, response) => send(parts, request, response));
  return router;
}

async function say({ speech }: TrialParts, request: Request, response: Response): Promise<void> {
  const text = request.query['text'];
  const wav =
    typeof text === 'string' && text.trim() !== '' && text.length <= SAID_AT_MOST
      ? await speech.say(text)
      : null;
  if (wav === null) response.status(404).end();
  else response.type('audio/wav').send(Buffer.from(wav));
}

/** Signed as the provider would, and sent to this server's own door: nothing goes round the check. */
async function send({ line, address }: TrialParts, request: Request, response: Response): Promise<void> {
  const sent = sendSchema.safeParse(request.body);
  if (!sent.success) {
    response.status(400).json({ status: 400, body: '' });
    return;
  }
  const { to } = sent.data;
  const params = { ...sent.data.params, AccountSid: TRIAL_ACCOUNT };
  const { token, publicUrl } = line.provider;
  const answer = await fetch(`${address()}${to}`, {
    method: 'POST',
    headers: { 'X-Twilio-Signature': twilio.getExpectedTwilioSignature(token, `${publicUrl}${to}`, params) },
    body: new URLSearchParams(params),
  });
  response.json({ status: answer.status, body: await answer.text() });
}

function sendPhone({ line }: TrialParts, response: Response): void {
  const { practice, place } = line;
  response.setHeader('Cache-Control', 'no-store');
  response.type('html').send(
    html`<!doctype html>
      <html lang="en-GB">
        <head>
          <meta charset="utf-8" />
          <meta name="viewport" content="width=device-width, initial-scale=1" />
          <title>${WORDS.title}, ${practice.name}</title>
          <link rel="stylesheet" href="/trial-phone.css" />
          <script type="module" src="/trial-phone.js"></script>
        </head>
        <body data-line="${practice.telephones.line}" data-caller="${practice.telephones.text}">
          <header>
            <p><a href="/">${practice.name}</a></p>
            <p>${WORDS.emergency} <strong>${place.emergency.number}</strong></p>
          </header>
          <main>
            <h1>${WORDS.title}</h1>
            <p>${WORDS.about}</p>
            <noscript><p>${WORDS.noScript}</p></noscript>
            <div id="phone"></div>
          </main>
        </body>
      </html>`.html,
  );
}
