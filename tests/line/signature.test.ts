/**
 * The check of who calls a webhook, against the worked examples that the provider has published: the documentation and
 * tests of its Node library, its guide on webhook security, and the newer text of that guide. The key is `12345`.
 */
import { once } from 'node:events';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import express from 'express';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { signedOnly } from '../../src/line/signature.ts';
import { aLine, type Line } from './a-line.ts';

const PATH = '/myapp.php?foo=1&bar=2';
const servers: Server[] = [];
afterAll(() => servers.forEach((server) => server.close()));

async function site(publicUrl: string): Promise<string> {
  const app = express().use(
    express.urlencoded({ extended: false }),
    signedOnly({ provider: { token: '12345', publicUrl } }),
  );
  app.post('/myapp.php', (_request, response) => response.send('let in'));
  const server = createServer(app).listen(0, '127.0.0.1');
  servers.push(server);
  await once(server, 'listening');
  return `http://127.0.0.1:${String((server.address() as AddressInfo).port)}`;
}

async function statusOf(publicUrl: string, body: string, signature: string | null): Promise<number> {
  const response = await fetch(`${await site(publicUrl)}${PATH}`, {
    method: 'POST',
    headers: {
      'Content-Type': 'application/x-www-form-urlencoded',
      ...(signature === null ? {} : { 'X-Twilio-Signature': signature }),
    },
    body,
  });
  return response.status;
}

function formOf(from: string): string {
  const to = '+18005551212';
  const params = { CallSid: 'CA1234567890ABCDE', Caller: from, Digits: '1234', From: from, To: to };
  return new URLSearchParams(params).toString();
}

describe('a published example is let in', () => {
  test.each([
    [
      'documentation and tests of the library',
      'https://mycompany.com',
      '+14158675309',
      'RSOYDt4T1cUTdK1PDd93/VVr8B8=',
    ],
    ['guide on webhook security', 'https://mycompany.com', '+12349013030', '0/KCTR6DLpKmkAf8muzZqo1nDgQ='],
    ['newer text of the guide', 'https://example.com', '+14158675310', 'L/OH5YylLD5NRKLltdqwSvS0BnU='],
  ])('%s', async (_where, publicUrl, from, signature) => {
    expect(await statusOf(publicUrl, formOf(from), signature)).toBe(200);
  });

  test('a repeated parameter, from the tests of the library', async () => {
    const form = 'Sid=CA123&SidAccount=AC123&Digits=5678&Digits=1234&Digits=1234';
    expect(await statusOf('https://mycompany.com', form, 'IK+Dwps556ElfBT0I3Rgjkr1wJU=')).toBe(200);
  });
});

describe('403 is the answer to', () => {
  test.each([
    ['no signature', 'https://mycompany.com', '+14158675309', null],
    [
      'another number than the one that was signed',
      'https://mycompany.com',
      '+14158675308',
      'RSOYDt4T1cUTdK1PDd93/VVr8B8=',
    ],
    ['another address than ours', 'https://mycompany.org', '+14158675309', 'RSOYDt4T1cUTdK1PDd93/VVr8B8='],
    [
      'a plain instead of a secure address',
      'http://mycompany.com',
      '+14158675309',
      'RSOYDt4T1cUTdK1PDd93/VVr8B8=',
    ],
  ])('%s', async (_what, publicUrl, from, signature) => {
    expect(await statusOf(publicUrl, formOf(from), signature)).toBe(403);
  });
});

describe('a request that nobody signed', () => {
  let line: Line;
  beforeAll(async () => {
    line = await aLine();
  });
  afterAll(() => line.stop());

  test.each(['/line/incoming', '/line/turn', '/line/dial', '/line/whisper', '/line/accept', '/line/status'])(
    'changes nothing at %s',
    async (path) => {
      const answer = await line.post(path, { CallSid: 'CA1', CallStatus: 'completed' }, 'forged');
      expect(answer.status).toBe(403);
      expect(answer.type).toMatch(/^text\/xml/);
      const calls = await line.store.calls.recent(10);
      expect(calls).toMatchObject({ ok: true, value: [] });
    },
  );
});
