/** Signing in and out over the running desk: passwords, sessions, and what a stolen cookie is worth. */
import request from 'supertest';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { aBrowser } from '../support/a-browser.ts';
import { aDesk, type Desk } from '../support/a-desk.ts';
import { faultOf, get, getAs, startCall } from '../support/desk-api.ts';
import { auditAnswerSchema } from '../../src/desk/contract/audit.ts';
import { cookiesOf, signInAs } from '../support/sign-in-as.ts';

let desk: Desk;
beforeAll(async () => {
  desk = await aDesk('small');
});
afterAll(() => desk.remove());

function practiceWith(cookie: string) {
  return request(desk.address).get('/api/practice').set('Cookie', cookie);
}

describe('a password', () => {
  test('that fits opens the desk, with a cookie that no script and no other site reads', async () => {
    const response = await aBrowser(desk).signIn('nurse');
    expect([response.status, response.headers['location']]).toEqual([303, '/']);
    const session = [response.headers['set-cookie']].flat().find((one) => one?.includes('session_token'));
    // RFC 6265bis; ASVS 4.0.3, 3.4.2 and 3.4.3.
    expect(session).toMatch(/HttpOnly/);
    expect(session).toMatch(/SameSite=Lax/);
  });

  test('that is wrong, or of nobody, is refused with the same words', async () => {
    const browser = aBrowser(desk);
    const wrong = await browser.signIn('nurse', 'not the password at all');
    const nobody = await browser.send('/sign-in', { name: 'nobody-here', password: desk.password });
    expect([wrong.status, nobody.status]).toEqual([401, 401]);
    expect(wrong.text).toBe(nobody.text);
    expect(wrong.headers['set-cookie']).toBeUndefined();
  });

  test.each(['BRONAGH-TULLY', '  bronagh-tully ', 'ｂｒｏｎａｇｈ－ｔｕｌｌｙ'])(
    'opens the desk for "%s" as for the name itself',
    async (name) => {
      expect(await signInAs(desk.address, { name, password: desk.password })).toContain('session_token');
    },
  );

  test.each(['Zdzisława', '名前', "x' or 1=1 --", '<script>', 'a'.repeat(10_000), ''])(
    'of "%s" is refused like any other',
    async (name) => {
      const { status } = await aBrowser(desk).send('/sign-in', { name, password: 'x'.repeat(20) });
      expect([400, 401, 413]).toContain(status);
    },
  );

  test('leads back to where somebody was, and never to another site', async () => {
    const login = { name: 'bronagh-tully', password: desk.password };
    const back = await aBrowser(desk).send('/sign-in', { ...login, to: '/calls/x' });
    expect(back.headers['location']).toBe('/calls/x');
    for (const to of ['//elsewhere.example', 'https://elsewhere.example', '/\\elsewhere', 'javascript:1']) {
      const response = await aBrowser(desk).send('/sign-in', { ...login, to });
      expect(response.headers['location']).toBe('/');
    }
  });
});

describe('a session', () => {
  test('is needed for pages, which lead to the sign-in, and for data, which is refused without whom to ring', async () => {
    const page = await request(desk.address).get('/calls/abc').redirects(0);
    expect([page.status, page.headers['location']]).toEqual([303, '/sign-in?to=%2Fcalls%2Fabc']);
    const data = await request(desk.address).get('/api/calls');
    expect(faultOf(data)).toEqual({ status: 401, code: 'signed-out' });
    expect(data.body.ring).toEqual([]);
  });

  test('that is over in the middle of a call keeps the call; signed in again, the same nurse goes on', async () => {
    const first = await signInAs(desk.address, { name: 'tomasz-wierzba', password: desk.password });
    const asked = { ...desk, cookie: () => Promise.resolve(first) };
    const call = await startCall(asked);
    await request(desk.address).post('/sign-out').set('Origin', desk.address).set('Cookie', first);
    expect((await get(asked, `/api/calls/${call.id}`)).status).toBe(401);
    const second = await signInAs(desk.address, { name: 'tomasz-wierzba', password: desk.password });
    const again = await get({ ...desk, cookie: () => Promise.resolve(second) }, `/api/calls/${call.id}`);
    expect(again.body.question?.id).toBe(call.question?.id);
  });

  test('ends with its sign-out, also for whoever has copied the cookie; another session goes on', async () => {
    const login = { name: 'tomasz-wierzba', password: desk.password };
    const [stolen, other] = [await signInAs(desk.address, login), await signInAs(desk.address, login)];
    expect((await practiceWith(stolen)).status).toBe(200);
    await request(desk.address).post('/sign-out').set('Origin', desk.address).set('Cookie', stolen);
    expect((await practiceWith(stolen)).status).toBe(401);
    expect((await practiceWith(other)).status).toBe(200);
    await request(desk.address).post('/sign-out/everywhere').set('Origin', desk.address).set('Cookie', other);
    expect((await practiceWith(other)).status).toBe(401);
  });

  test('is not had by a cookie that was made up or changed', async () => {
    const cookie = await signInAs(desk.address, { name: 'tomasz-wierzba', password: desk.password });
    const changed = cookie.replace(/(session_token=[^;]{10})./, '$1!');
    for (const forged of [changed, 'call-desk.session_token=abc.def', 'call-desk.session_token=']) {
      expect((await practiceWith(forged)).status).toBe(401);
    }
  });

  test('is a new one at each sign-in', async () => {
    const login = { name: 'tomasz-wierzba', password: desk.password };
    const before = await request(desk.address)
      .post('/sign-in')
      .set('Origin', desk.address)
      .set('Cookie', 'call-desk.session_token=fixed-by-somebody')
      .type('form')
      .send(login);
    expect(cookiesOf(before.headers['set-cookie'])).not.toContain('fixed-by-somebody');
  });
});

describe('wrong tries', () => {
  test('shut out strangers, not a browser that has signed in with the name before', async () => {
    const known = aBrowser(desk);
    expect((await known.signIn('flow-author')).status).toBe(303);
    const stranger = aBrowser(desk);
    const statuses: number[] = [];
    for (let n = 0; n < 11; n += 1)
      statuses.push((await stranger.signIn('flow-author', `wrong ${String(n)} wrong`)).status);
    // Ten a quarter of an hour for one name.
    expect(statuses).toEqual([...Array.from({ length: 10 }, () => 401), 429]);
    expect((await stranger.signIn('flow-author')).status).toBe(429);
    expect((await known.signIn('flow-author')).status).toBe(303);
    // Nobody else's name is shut.
    expect((await stranger.signIn('lead-nurse')).status).toBe(303);
  });

  test('are in the audit trail, with the name only when it is somebody’s', async () => {
    await aBrowser(desk).send('/sign-in', { name: 'my secret password', password: 'x'.repeat(20) });
    const { entries } = await getAs(desk.as('administrator'), '/api/audit', auditAnswerSchema);
    const refused = entries.filter(({ what }) => what === 'sign-in refused').map(({ who }) => who.id);
    expect(refused).toContain('unknown');
    expect(refused).toContain('sunniva-hale');
    expect(JSON.stringify(entries)).not.toContain('secret');
  });
});

describe('a form', () => {
  test('from another site is refused', async () => {
    const login = { name: 'bronagh-tully', password: desk.password };
    const forged = [
      { Origin: 'https://elsewhere.example' },
      { Origin: 'null' },
      { Origin: desk.address, 'Sec-Fetch-Site': 'cross-site' },
      {},
    ];
    for (const headers of forged) {
      const response = await request(desk.address).post('/sign-in').set(headers).type('form').send(login);
      expect(response.status).toBe(403);
    }
  });

  test('of a megabyte is not read', async () => {
    const response = await aBrowser(desk).send('/sign-in', { name: 'x', password: 'x'.repeat(1_000_000) });
    expect(response.status).toBe(413);
  });
});
