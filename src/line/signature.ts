/** Whether a request comes from the telephone provider: its signature over our public address and all that it sent. */
import type { RequestHandler } from 'express';
import twilio from 'twilio';
import type { LineDeps } from './deps.ts';

/** A bad or missing signature is 403 and nothing else happens. The public address, never what the request calls itself. */
export function signedOnly({ provider }: Pick<LineDeps, 'provider'>): RequestHandler {
  return (request, response, next) => {
    const signature = request.get('x-twilio-signature') ?? '';
    const url = `${provider.publicUrl}${request.originalUrl}`;
    // Without a parsed body the library throws.
    const body = (request.body ?? {}) as Record<string, unknown>;
    if (signature !== '' && twilio.validateRequest(provider.token, signature, url, body)) next();
    else response.status(403).type('text/xml').send(new twilio.twiml.VoiceResponse().toString());
  };
}
