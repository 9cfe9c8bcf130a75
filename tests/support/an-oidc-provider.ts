/** A small OpenID Connect provider on this machine: discovery, codes with PKCE, and tokens that it signs (RFC 7517, 7519, 7636). */
import { createHash, createSign, generateKeyPairSync } from 'node:crypto';
import { once } from 'node:events';
import { createServer, type IncomingMessage } from 'node:http';
import { newId } from '../../src/basics/ids.ts';
import { systemClock } from '../../src/basics/system-clock.ts';

export interface OidcProvider {
  readonly address: string;
  /** Who is signed in there. */
  readonly become: (person: {
    readonly sub: string;
    readonly email: string;
    readonly verified: boolean;
  }) => void;
  readonly stop: () => void;
}

const base64 = (value: object): string => Buffer.from(JSON.stringify(value)).toString('base64url');

export async function anOidcProvider(clientId: string): Promise<OidcProvider> {
  const { privateKey, publicKey } = generateKeyPairSync('rsa', { modulusLength: 2048 });
  const codes = new Map<string, { readonly nonce: string; readonly challenge: string }>();
  let person = { sub: 'nobody', email: 'nobody@practice.example', verified: true };
  let address = '';

  function idToken(nonce: string): string {
    const now = Math.floor(systemClock.now() / 1000);
    const { sub, email, verified } = person;
    const times = { iat: now, exp: now + 300 };
    const claims = {
      iss: address,
      aud: clientId,
      sub,
      email,
      email_verified: verified,
      name: sub,
      nonce,
      ...times,
    };
    const text = `${base64({ alg: 'RS256', kid: 'test', typ: 'JWT' })}.${base64(claims)}`;
    return `${text}.${createSign('RSA-SHA256').update(text).sign(privateKey, 'base64url')}`;
  }

  async function answer(request: IncomingMessage): Promise<object | URL | null> {
    const url = new URL(request.url ?? '', address);
    const given = (name: string): string => url.searchParams.get(name) ?? '';
    switch (url.pathname) {
      case '/.well-known/openid-configuration':
        return {
          issuer: address,
          authorization_endpoint: `${address}/authorize`,
          token_endpoint: `${address}/token`,
          jwks_uri: `${address}/keys`,
          id_token_signing_alg_values_supported: ['RS256'],
        };
      case '/keys':
        return { keys: [{ ...publicKey.export({ format: 'jwk' }), kid: 'test', alg: 'RS256', use: 'sig' }] };
      case '/authorize': {
        const code = newId();
        codes.set(code, { nonce: given('nonce'), challenge: given('code_challenge') });
        const back = new URL(given('redirect_uri'));
        back.searchParams.set('code', code);
        back.searchParams.set('state', given('state'));
        return back;
      }
      case '/token': {
        const form = new URLSearchParams(await bodyOf(request));
        const begun = codes.get(form.get('code') ?? '');
        codes.delete(form.get('code') ?? '');
        const challenge = createHash('sha256')
          .update(form.get('code_verifier') ?? '')
          .digest('base64url');
        if (begun === undefined || begun.challenge !== challenge) return null;
        return {
          access_token: newId(),
          token_type: 'Bearer',
          expires_in: 300,
          id_token: idToken(begun.nonce),
        };
      }
    }
    return null;
  }

  const server = createServer((request, response) => {
    void answer(request).then((answered) => {
      if (answered instanceof URL) response.writeHead(302, { Location: answered.href }).end();
      else
        response
          .writeHead(answered === null ? 400 : 200, { 'Content-Type': 'application/json' })
          .end(JSON.stringify(answered ?? { error: 'invalid_grant' }));
    });
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const at = server.address();
  address = `http://127.0.0.1:${typeof at === 'object' && at !== null ? String(at.port) : ''}`;
  return {
    address,
    become: (next) => {
      person = next;
    },
    stop: () => void server.close(),
  };
}

async function bodyOf(request: IncomingMessage): Promise<string> {
  let text = '';
  for await (const part of request) text += String(part);
  return text;
}
