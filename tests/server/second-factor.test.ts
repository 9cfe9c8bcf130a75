/** Second factors over the running desk: an authenticator app with its codes, spare codes, and where one is required. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { TOTP } from 'otpauth';
import { afterAll, beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import { pino } from 'pino';
import { USUAL_CONFIG } from '../../src/server/config.ts';
import { start, type Running } from '../../src/server/start.ts';
import { aBrowser, type Browser } from '../support/a-browser.ts';
import { aDesk, DESK_NOW, smallContent, type Desk } from '../support/a-desk.ts';
import { fixedClock } from '../support/fixed-clock.ts';
import { tempDir } from '../support/temp-dir.ts';

let desk: Desk;
beforeAll(async () => {
  desk = await aDesk('small');
});
afterAll(() => desk.remove());

interface App {
  readonly totp: TOTP;
  readonly spare: readonly string[];
}

/** Sets up an authenticator app, which otpauth plays (RFC 6238). */
async function setUpApp(browser: Browser, password = desk.password): Promise<App> {
  const page = await browser.send('/profile/totp', { password });
  expect(page.status).toBe(200);
  const secret = /<code>([A-Z2-7]{16,})<\/code>/.exec(page.text)?.[1] ?? '';
  const spare = [...page.text.matchAll(/<li>\s*<code>([^<]+)<\/code>/g)].map(([, code]) => code ?? '');
  expect(page.text).toContain('<svg');
  return { totp: new TOTP({ secret }), spare };
}

/** A later code than the one of now, still within the step that the clock may be off by. */
function laterCode({ totp }: App): string {
  return totp.generate({ timestamp: Math.floor(totp.counter() + 1) * 30_000 });
}

describe('an authenticator app', () => {
  test('is asked for after the password, takes each code once, and spare codes once', async () => {
    const browser = aBrowser(desk);
    await browser.signIn('nurse');
    expect((await browser.send('/profile/totp', { password: 'not my password' })).status).toBe(400);
    const app = await setUpApp(browser);
    expect((await browser.send('/profile/totp/confirm', { code: '000000' })).status).toBe(400);
    const code = app.totp.generate();
    expect((await browser.send('/profile/totp/confirm', { code })).headers['location']).toBe('/profile?kept');
    expect((await browser.get('/api/practice')).status).toBe(200);

    const next = aBrowser(desk);
    const asked = await next.signIn('nurse');
    expect(asked.headers['location']).toBe('/sign-in/code?to=%2F');
    expect((await next.get('/api/practice')).status).toBe(401);
    // The code that switched it on was used.
    expect((await next.send('/sign-in/code', { code })).status).toBe(401);
    expect((await next.get('/api/practice')).status).toBe(401);

    const third = aBrowser(desk);
    await third.signIn('nurse');
    const later = laterCode(app);
    expect((await third.send('/sign-in/code', { code: later })).status).toBe(303);
    expect((await third.get('/api/practice')).status).toBe(200);
    const replayed = aBrowser(desk);
    await replayed.signIn('nurse');
    expect((await replayed.send('/sign-in/code', { code: later })).status).toBe(401);

    const [spare = ''] = app.spare;
    for (const expected of [303, 401]) {
      const spent = aBrowser(desk);
      await spent.signIn('nurse');
      expect((await spent.send('/sign-in/code', { code: spare })).status).toBe(expected);
    }

    // Guessing ends after five tries, whatever comes then.
    const guessing = aBrowser(desk);
    await guessing.signIn('nurse');
    for (let n = 0; n < 5; n += 1) await guessing.send('/sign-in/code', { code: '123123' });
    const [, other = ''] = app.spare;
    expect((await guessing.send('/sign-in/code', { code: other })).status).toBe(401);

    expect((await third.send('/profile/totp/remove', { password: desk.password })).status).toBe(303);
    expect((await aBrowser(desk).signIn('nurse')).headers['location']).toBe('/');
  });
});

describe('the password', () => {
  test('is changed with the old one, ends the other sessions, and must be long and say nobody', async () => {
    const [browser, other] = [aBrowser(desk), aBrowser(desk)];
    await browser.signIn('flow-author');
    await other.signIn('flow-author');
    const change = (next: string, current = desk.password) =>
      browser.send('/profile/password', { current, next });
    const good = 'seven quiet herons';
    for (const bad of [
      'short',
      'sunniva sunniva 1',
      'my clinic is here',
      'aaaaaaaaaaaaaaaa',
      'x'.repeat(129),
    ]) {
      expect((await change(bad)).status).toBe(400);
    }
    expect((await change(good, 'not the old one')).status).toBe(400);
    expect((await change(good)).status).toBe(303);
    expect((await other.get('/api/practice')).status).toBe(401);
    expect((await browser.get('/api/practice')).status).toBe(200);
    expect((await aBrowser(desk).signIn('flow-author')).status).toBe(401);
    expect((await aBrowser(desk).signIn('flow-author', good)).status).toBe(303);
  });
});

describe('a live practice', () => {
  async function live(): Promise<Running> {
    const folder = tempDir();
    const flows = smallContent(folder);
    const file = join(flows, 'practice.yaml');
    const text = readFileSync(file, 'utf8');
    writeFileSync(
      file,
      text.replace('mode: demo', 'mode: live').replace("secondFactor: 'off'", "secondFactor: 'required'"),
    );
    const config = { ...USUAL_CONFIG, port: 0, dataDir: join(folder, 'data') };
    const started = await start({
      config,
      flows,
      clock: fixedClock(DESK_NOW),
      log: pino({ level: 'silent' }),
    });
    if (!started.ok) throw new Error(JSON.stringify(started.fault));
    onTestFinished(started.value.close);
    return started.value;
  }

  const PASSWORD = 'nine brass lanterns';

  test('is set up once through its link, by an administrator who needs a second factor and invites the rest', async () => {
    const running = await live();
    const site = { address: running.address.replace(/\/$/, ''), password: '' };
    expect(running.demo).toBeNull();
    const { pathname, search, searchParams } = new URL(running.setUp ?? '');
    const link = searchParams.get('link') ?? '';
    const admin = aBrowser(site);
    expect((await admin.get(`${pathname}${search}`)).status).toBe(200);
    const form = { link, id: 'oddny-vale', name: 'Oddný Vale', password: PASSWORD };
    expect((await admin.send('/join', { ...form, password: 'oddny-vale-123' })).status).toBe(400);
    expect((await admin.send('/join', form)).headers['location']).toBe('/sign-in');
    // One link, one administrator.
    expect((await admin.send('/join', { ...form, id: 'another' })).status).toBe(410);

    await admin.send('/sign-in', { name: 'oddny-vale', password: PASSWORD });
    expect((await admin.get('/staff')).headers['location']).toBe('/profile');
    expect((await admin.get('/api/audit')).status).toBe(403);
    const app = await setUpApp(admin, PASSWORD);
    await admin.send('/profile/totp/confirm', { code: app.totp.generate() });
    expect((await admin.get('/staff')).status).toBe(200);
    // Signed in, but to nothing of a patient.
    expect((await admin.get('/api/calls')).status).toBe(403);

    const invited = await admin.send('/staff/invite', {
      id: 'bronagh-tully',
      name: 'Bronagh Tully',
      role: 'nurse',
      email: '',
    });
    const nurseLink = /join\?link=([\w-]+)/.exec(invited.text)?.[1] ?? '';
    const nurse = aBrowser(site);
    const taken = { link: nurseLink, password: 'eleven paper boats' };
    expect((await nurse.send('/join', taken)).status).toBe(303);
    expect((await nurse.send('/join', taken)).status).toBe(410);
    await nurse.send('/sign-in', { name: 'bronagh-tully', password: taken.password });
    expect((await nurse.get('/api/calls')).status).toBe(403);
    const nurseApp = await setUpApp(nurse, taken.password);
    await nurse.send('/profile/totp/confirm', { code: nurseApp.totp.generate() });
    expect((await nurse.get('/api/calls')).status).toBe(200);

    const change = { id: 'bronagh-tully', role: 'front-desk', disabled: 'no' };
    await admin.send('/staff/change', change);
    // A new role is a new sign-in.
    expect((await nurse.get('/api/calls')).status).toBe(401);
    await admin.send('/staff/change', { ...change, disabled: 'yes' });
    const gone = await aBrowser(site).send('/sign-in', { name: 'bronagh-tully', password: taken.password });
    expect(gone.status).toBe(401);
    const self = { id: 'oddny-vale', role: 'nurse', disabled: 'yes' };
    expect((await admin.send('/staff/change', self)).status).toBe(400);
  });
});
