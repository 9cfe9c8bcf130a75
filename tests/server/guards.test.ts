/** What every request passes: headers, host, origin, size and shape of the body. */
import request from 'supertest';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { aDesk, type Desk } from '../support/a-desk.ts';
import { faultOf, get, post, startBody } from '../support/desk-api.ts';

let desk: Desk;
beforeAll(async () => {
  desk = await aDesk('small');
});
afterAll(() => desk.remove());

describe('headers', () => {
  test.each(['/', '/api/practice', '/page.css', '/nothing-here'])(
    'of %s keep the page to itself',
    async (path) => {
      const { headers } = await get(desk, path);
      // Content Security Policy Level 3: sources, framing and base are all named.
      expect(headers['content-security-policy']).toContain("default-src 'none'");
      expect(headers['content-security-policy']).toContain("script-src 'self'");
      expect(headers['content-security-policy']).not.toContain('unsafe');
      expect(headers['content-security-policy']).toContain("frame-ancestors 'none'");
      expect(headers['x-content-type-options']).toBe('nosniff');
      expect(headers['referrer-policy']).toBe('same-origin');
      expect(headers['x-powered-by']).toBeUndefined();
    },
  );

  test.each(['/', '/api/calls', '/api/find?q=Quennell'])('of %s forbid keeping a copy', async (path) => {
    const { headers } = await get(desk, path);
    expect(headers['cache-control']).toBe('no-store');
  });
});

describe('a change', () => {
  test('from a page of another origin is refused', async () => {
    const response = await request(desk.address)
      .post('/api/calls')
      .set('Cookie', await desk.cookie())
      .set('Origin', 'https://elsewhere.example')
      .set('X-Call-Desk', 'page')
      .send(startBody());
    expect(response.status).toBe(403);
  });

  test('without an origin and without the desk’s own header is refused', async () => {
    const response = await request(desk.address)
      .post('/api/calls')
      .set('Cookie', await desk.cookie())
      .send(startBody());
    expect(response.status).toBe(403);
  });

  test('from the desk’s own page is accepted', async () => {
    const response = await request(desk.address)
      .post('/api/calls')
      .set('Cookie', await desk.cookie())
      .set('Origin', desk.address)
      .send(startBody());
    expect(response.status).toBe(200);
  });

  test('that was refused leaves no call behind', async () => {
    const before = await get(desk, '/api/calls');
    await request(desk.address)
      .post('/api/calls')
      .set('Cookie', await desk.cookie())
      .send(startBody());
    const after = await get(desk, '/api/calls');
    expect(after.body).toEqual(before.body);
  });
});

test('another name that leads to this machine is refused', async () => {
  const response = await request(desk.address).get('/api/calls').set('Host', 'desk.elsewhere.example');
  expect(response.status).toBe(403);
});

describe('a body', () => {
  test.each(['{"call":', 'null', '[]', '"text"', '{}', '{"call":"x"}'])(
    'of %s is a bad request that names nobody',
    async (body) => {
      expect(faultOf(await post(desk, '/api/calls', body))).toEqual({ status: 400, code: 'bad-request' });
    },
  );

  test('of more than 64 kB is too large', async () => {
    const response = await post(desk, '/api/calls', startBody({ callerNumber: 'x'.repeat(70_000) }));
    expect(response.status).toBe(413);
  });

  test('that is no JSON by its own word is not read', async () => {
    const response = await request(desk.address)
      .post('/api/calls')
      .set('Cookie', await desk.cookie())
      .set('X-Call-Desk', 'test')
      .set('Content-Type', 'text/plain')
      .send(JSON.stringify(startBody()));
    expect(response.status).toBe(400);
  });
});

test('an address of the interface that nobody answers is not found, and says whom to ring', async () => {
  const response = await get(desk, '/api/nothing');
  expect(faultOf(response)).toEqual({ status: 404, code: 'not-found' });
  expect(response.body.ring.length).toBeGreaterThan(0);
});
