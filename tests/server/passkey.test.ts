/** Passkeys in a real browser: one is added with a virtual authenticator, and opens the desk without a password. */
import { AxeBuilder } from '@axe-core/playwright';
import { chromium, type Browser, type Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { aDesk, type Desk } from '../support/a-desk.ts';
import { findChromium } from '../support/find-chromium.ts';
import { demoNameOf } from '../support/sign-in-as.ts';

let desk: Desk;
let browser: Browser;
beforeAll(async () => {
  desk = await aDesk('small');
  browser = await chromium.launch(await findChromium());
});
afterAll(async () => {
  await browser.close();
  await desk.remove();
});

/** WCAG 2.1 A and AA and best practices, as axe-core tests them. */
async function expectAccessible(page: Page): Promise<void> {
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`)).toEqual([]);
}

// Web Authentication Level 3, 11: a virtual authenticator, as browsers offer it to tests.
test('is added on the profile, and signs in by itself; the pages are accessible', async () => {
  // A passkey belongs to a name, and this machine's own is localhost.
  const site = desk.address.replace('127.0.0.1', 'localhost');
  const page = await (await browser.newContext()).newPage();
  const devtools = await page.context().newCDPSession(page);
  await devtools.send('WebAuthn.enable');
  await devtools.send('WebAuthn.addVirtualAuthenticator', {
    options: {
      protocol: 'ctap2',
      transport: 'internal',
      hasResidentKey: true,
      hasUserVerification: true,
      isUserVerified: true,
      automaticPresenceSimulation: true,
    },
  });
  await page.goto(`${site}/sign-in?to=/profile`);
  await expectAccessible(page);
  await page.getByLabel('Sign-in name').fill(demoNameOf('lead-nurse'));
  await page.getByLabel('Password').fill(desk.password);
  await page.keyboard.press('Enter');
  await page.waitForURL((url) => url.pathname === '/profile');
  await expectAccessible(page);
  await page.getByRole('button', { name: 'Add a passkey' }).click();
  await page.waitForURL((url) => url.pathname === '/profile' && url.search === '?kept');
  await page.getByRole('button', { name: 'Sign out', exact: true }).click();
  await page.waitForURL((url) => url.pathname === '/sign-in');
  await page.goto(`${site}/sign-in?to=/profile`);
  await page.getByRole('button', { name: 'Sign in with a passkey' }).click();
  await page.waitForURL((url) => url.pathname === '/profile');
  expect(await page.locator('main').innerText()).toContain('Precious Adeyinka');
});

test('the staff page of the administrator is accessible', async () => {
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.goto(`${desk.address}/sign-in?to=/staff`);
  await page.getByLabel('Sign-in name').fill(demoNameOf('administrator'));
  await page.getByLabel('Password').fill(desk.password);
  await page.keyboard.press('Enter');
  await page.waitForURL((url) => url.pathname === '/staff');
  await expectAccessible(page);
});
