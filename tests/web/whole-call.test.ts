/** A nurse takes whole calls with the keyboard, in a real browser, on the real scripts. */
import { AxeBuilder } from '@axe-core/playwright';
import { chromium, type Browser, type BrowserContext, type Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect, test } from 'vitest';
import { aDesk, type Desk } from '../support/a-desk.ts';
import { answerAll, answerWith, beginCall, moved, ready } from '../support/desk-page.ts';
import { browserCookies } from '../support/sign-in-as.ts';
import { findChromium } from '../support/find-chromium.ts';

let desk: Desk;
let browser: Browser;
let context: BrowserContext;
let page: Page;

beforeAll(async () => {
  desk = await aDesk('real');
  browser = await chromium.launch(await findChromium());
});
afterAll(async () => {
  await browser.close();
  await desk.remove();
});
beforeEach(async () => {
  context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
  await context.addCookies(await browserCookies(desk));
  page = await context.newPage();
  await page.goto(desk.address);
  await page.locator('#find:focus').waitFor();
});
afterEach(() => context.close());

/** WCAG 2.1 A and AA and best practices, as axe-core tests them. */
async function expectAccessible(): Promise<void> {
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`)).toEqual([]);
}

function main() {
  return page.locator('main');
}

async function mainText(): Promise<string> {
  return main().innerText();
}

test('an ordinary call from the first key to the record', async () => {
  await expectAccessible();
  await page.keyboard.type('penrose');
  await page.keyboard.press('Enter');
  await page.locator('.results h2:focus').waitFor();
  // flows/demo/people.yaml: breast lift, 40 days ago.
  expect(await mainText()).toContain('Day 40');
  await expectAccessible();
  await page.keyboard.press('1');
  await page.locator('#opening').waitFor();
  await ready(page);
  expect(await mainText()).toContain('Zdzisława Penrose-Wójcik');

  // Left empty: the danger screen goes first, and the open question comes after identity.
  await page.keyboard.press('Enter');
  const first = await ready(page);
  expect(await page.locator('[data-question]').getAttribute('data-question')).toBe(first);
  expect(first).toMatch(/^screen-/);
  expect(await page.locator('h2.aloud').innerText()).toContain('short of breath');
  await expectAccessible();
  expect(await answerAll(page, { until: 'identity' })).toBe('identity');
  await page.keyboard.press('Enter');
  await page.locator('main[data-ready="opening"]').waitFor();
  await moved(page, async () => {
    await page.keyboard.type('When may I put oil on the scar?');
    await page.keyboard.press('Enter');
  });
  expect(await page.locator('blockquote').innerText()).toBe('When may I put oil on the scar?');

  // A reload comes back to the same question.
  const here = await ready(page);
  await page.reload();
  expect(await ready(page)).toBe(here);

  expect(await answerAll(page, {})).toBe('outcome');
  expect(await mainText()).toContain('From what you say, this is the usual course.');
  expect(await mainText()).toContain('Points by possible complication');
  await expectAccessible();
  await answerWith(page, 't');
  await page.locator('#understood').focus();
  await page.keyboard.press('Space');
  await page.locator('#agreed').fill('Oil from week six.');
  await moved(page, () => page.getByRole('button', { name: 'Close the call' }).press('Enter'));
  await page.getByRole('link', { name: 'Read the record' }).press('Enter');
  await page.locator('.record').first().waitFor();
  const record = await mainText();
  expect(record).toContain('When may I put oil on the scar?');
  expect(record).toContain('Oil from week six.');
  await expectAccessible();
});

test('an emergency: said before anything more is asked, whom to ring, taken over by name, closed', async () => {
  await beginCall(page, '07700 900101');
  await page.keyboard.type('I cannot stop shaking');
  await page.keyboard.press('Enter');
  await ready(page);
  await page.keyboard.press('!');
  await page.locator('dialog[open]').waitFor();
  await expectAccessible();
  await page.locator('dialog input').first().focus();
  await page.keyboard.press('Space');
  await moved(page, () => page.keyboard.press('Enter'));
  const alert = page.getByRole('alert');
  expect(await alert.innerText()).toContain('EMERGENCY');
  // Numbers of flows/places/uk.yaml and of the rota of a Tuesday in flows/practice.yaml.
  expect(await alert.innerText()).toContain(await page.locator('#emergency').innerText());
  expect(await alert.innerText()).toContain('07700 900712');
  const order = await page
    .locator('.middle > section.sheet')
    .evaluateAll((all) => all.map((one) => one.className));
  expect(order[0]).toContain('tell');
  await expectAccessible();
  await answerWith(page, 't');
  expect(await answerAll(page, {})).toBe('outcome');
  const close = page.getByRole('button', { name: 'Close the call' });
  await close.click();
  await page.locator('#trouble').waitFor();
  expect(await page.locator('#trouble').innerText()).toContain('still needed: accepted');
  await page.locator('#accepted-by').fill('Dr Kwabena Osei-Lund');
  await moved(page, () => page.keyboard.press('Enter'));
  expect(await mainText()).toContain('Accepted by Dr Kwabena Osei-Lund');
  await moved(page, () => close.click());
  expect(await ready(page)).toBe('closed');
  await page.goto(desk.address);
  await page.locator('.lists').getByText('Marisol Quennell').first().waitFor();
  await expectAccessible();
});

test('words of a caller stay words, an answer can be changed, and a danger that is denied goes on counting', async () => {
  await beginCall(page, 'Ferncastle');
  const hostile = '<img src=x onerror="document.title=1"><script>document.title=1</script>';
  await moved(page, async () => {
    await page.keyboard.type(hostile);
    await page.keyboard.press('Enter');
  });
  expect(await page.locator('blockquote').innerText()).toBe(hostile);
  expect(await page.title()).toContain('Ferncastle');

  const first = await ready(page);
  await answerWith(page, 'n');
  await answerAll(page, { until: 'screen-stroke-or-fit' });
  await moved(page, () => page.keyboard.press('Backspace'));
  expect(await ready(page)).not.toBe(first);
  await answerAll(page, {
    until: 'screen-stroke-or-fit',
    keys: { 'screen-faint-drowsy-or-muddled': 'y', collapse: 'y' },
  });
  expect(await main().innerText()).toContain('EMERGENCY');
  const item = page.locator('.answered li', { hasText: 'passed out' }).first();
  await item.getByRole('button', { name: 'Change' }).click();
  await page.locator('dialog').getByLabel('No', { exact: true }).check();
  await page.locator('dialog').getByLabel('The caller takes it back').check();
  await moved(page, () => page.locator('dialog').getByRole('button', { name: 'Write it down' }).click());
  expect(await mainText()).toContain('It goes on counting as it was said.');
  expect(await mainText()).toContain('EMERGENCY');
});

test('an answer that did not arrive is said, with whom to ring, and is sent again unchanged', async () => {
  await beginCall(page, 'Aldous');
  await page.keyboard.press('Enter');
  const first = await ready(page);
  await page.route('**/turns', (route) => route.abort());
  await page.keyboard.press('n');
  const trouble = page.locator('#trouble');
  await trouble.waitFor();
  expect(await trouble.innerText()).toContain('Dr Kwabena Osei-Lund');
  expect(await page.locator('[data-question]').getAttribute('data-question')).toBe(first);
  await page.unroute('**/turns');
  await moved(page, () => page.getByRole('button', { name: 'Try now' }).click());
  expect(await ready(page)).not.toBe(first);
  expect(await trouble.count()).toBe(0);
});

test('a call without a patient can begin at once, and find its patient later', async () => {
  await page.getByRole('button', { name: 'Start without a patient' }).click();
  await page.locator('#opening').waitFor();
  await ready(page);
  await page.keyboard.press('Enter');
  expect(await answerAll(page, { until: 'identity' })).toBe('identity');
  await page.locator('#find').fill('Penrose');
  await page.keyboard.press('Enter');
  await page.locator('.results h2:focus').waitFor();
  await moved(page, () => page.keyboard.press('1'));
  expect(await mainText()).toContain('Zdzisława Penrose-Wójcik');
  expect(await ready(page)).toBe('identity');
});
