/** Single sign-on against a small provider on this machine: only people whom the administrator invited come in. */
import { join } from 'node:path';
import { pino } from 'pino';
import { expect, onTestFinished, test } from 'vitest';
import { USUAL_CONFIG } from '../../src/server/config.ts';
import { start } from '../../src/server/start.ts';
import { aBrowser, type Browser } from '../support/a-browser.ts';
import { DESK_NOW, smallContent } from '../support/a-desk.ts';
import { anOidcProvider } from '../support/an-oidc-provider.ts';
import { fixedClock } from '../support/fixed-clock.ts';
import { demoNameOf } from '../support/sign-in-as.ts';
import { tempDir } from '../support/temp-dir.ts';

const CLIENT = 'call-desk-test';

async function aSite() {
  const provider = await anOidcProvider(CLIENT);
  onTestFinished(provider.stop);
  const folder = tempDir();
  const flows = smallContent(folder);
  const oidc = {
    discoveryUrl: `${provider.address}/.well-known/openid-configuration`,
    clientId: CLIENT,
    clientSecret: 'between us',
  };
  const config = { ...USUAL_CONFIG, port: 0, dataDir: join(folder, 'data'), oidc };
  const started = await start({ config, flows, clock: fixedClock(DESK_NOW), log: pino({ level: 'silent' }) });
  if (!started.ok) throw new Error(JSON.stringify(started.fault));
  onTestFinished(started.value.close);
  const site = {
    address: started.value.address.replace(/\/$/, ''),
    password: started.value.demo?.password ?? '',
  };
  return { provider, site };
}

/** There and back again, as a browser follows it; where it ends. */
async function throughProvider(browser: Browser): Promise<string> {
  const begun = await browser.get('/sign-in/provider');
  expect(begun.status).toBe(303);
  const back = await fetch(String(begun.headers['location']), { redirect: 'manual' });
  const { pathname, search } = new URL(back.headers.get('location') ?? '');
  return String((await browser.get(`${pathname}${search}`)).headers['location']);
}

test('lets in whom the administrator invited under that address, and nobody else', async () => {
  const { provider, site } = await aSite();
  const admin = aBrowser(site);
  await admin.send('/sign-in', { name: demoNameOf('administrator'), password: site.password });
  const invited = { id: 'runa-skelly', name: 'Rúna Skelly', role: 'nurse', email: 'runa@practice.example' };
  expect((await admin.send('/staff/invite', invited)).status).toBe(200);

  provider.become({ sub: 'p-1', email: 'Runa@practice.example', verified: true });
  const runa = aBrowser(site);
  expect((await runa.get('/sign-in')).text).toContain('/sign-in/provider');
  expect(await throughProvider(runa)).toBe('/');
  expect((await runa.get('/api/calls')).status).toBe(200);
  // And again, by the account that is known now.
  expect(await throughProvider(aBrowser(site))).toBe('/');

  for (const person of [
    { sub: 'p-2', email: 'stranger@practice.example', verified: true },
    { sub: 'p-3', email: 'runa@practice.example', verified: false },
    { sub: 'p-4', email: 'bronagh-tully@staff.invalid', verified: true },
  ]) {
    provider.become(person);
    const browser = aBrowser(site);
    expect(await throughProvider(browser)).toBe('/sign-in?error');
    expect((await browser.get('/api/practice')).status).toBe(401);
  }

  // A disabled account is shut, whatever the provider says.
  await admin.send('/staff/change', { id: 'runa-skelly', role: 'nurse', disabled: 'yes' });
  provider.become({ sub: 'p-1', email: 'runa@practice.example', verified: true });
  expect(await throughProvider(aBrowser(site))).toBe('/sign-in?error');
});

test('is begun and ended in one browser: an answer that this one did not ask for opens nothing', async () => {
  const { provider, site } = await aSite();
  provider.become({ sub: 'p-1', email: 'x@practice.example', verified: true });
  const begun = await aBrowser(site).get('/sign-in/provider');
  const back = await fetch(String(begun.headers['location']), { redirect: 'manual' });
  const { pathname, search } = new URL(back.headers.get('location') ?? '');
  const victim = aBrowser(site);
  expect((await victim.get(`${pathname}${search}`)).headers['location']).toBe('/sign-in?error');
  expect((await victim.get('/api/practice')).status).toBe(401);
});
