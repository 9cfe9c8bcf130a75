/** What goes wrong in the middle of a call, in a real browser: nothing that was said is lost, and the nurse is told. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import { launchPersistent } from '../support/a-profile.ts';
import { launchBrowser, openAt, type SignedIn } from '../support/a-window.ts';
import { aDesk, type Desk } from '../support/a-desk.ts';
import { startCall, turn, usualAnswer, view } from '../support/desk-api.ts';
import { answerWith, moved, ready } from '../support/desk-page.ts';

let desk: Desk;
let browser: Browser;
let windows: SignedIn[] = [];

beforeAll(async () => {
  desk = await aDesk('real');
  browser = await launchBrowser();
});
afterEach(async () => {
  for (const { context } of windows) await context.close();
  windows = [];
});
afterAll(async () => {
  await browser.close();
  await desk.remove();
});

async function openCall(id: string, as: Desk = desk): Promise<Page> {
  const opened = await openAt(browser, as, `/calls/${id}`);
  windows.push(opened);
  return opened.page;
}

/** A call whose first words are passed over, so that its page shows the question. */
async function aCallAsking(): Promise<{ readonly id: string; readonly question: string }> {
  const call = await startCall(desk, { callerNumber: '07700 900101' });
  const first = call.question;
  if (first === null) throw new Error('A call begins with a question.');
  const { view: next } = await turn(desk, call.id, usualAnswer(first, {}));
  return { id: call.id, question: next.question?.id ?? '' };
}

test('while the network is cut answers and notes wait in sight, and are sent once when it is back', async () => {
  const { id, question } = await aCallAsking();
  const page = await openCall(id);
  expect(await ready(page)).toBe(question);
  const before = await view(desk, id);
  await page.context().setOffline(true);
  await page.keyboard.press('n');
  const trouble = page.locator('#trouble');
  await trouble.waitFor();
  await page.keyboard.press('m');
  await page.locator('dialog textarea').fill('She is calmer now.');
  await page.keyboard.press('Enter');
  await trouble.getByText('She is calmer now.').waitFor();
  expect(await trouble.innerText()).toContain('Dr Kwabena Osei-Lund');
  // What waits is kept by the browser as well, with its token, for the case that it is closed now.
  const kept = await page.evaluate(`localStorage.getItem('call-desk:waiting:${id}')`);
  const tokens = (JSON.parse(String(kept)) as readonly { token: string }[]).map(({ token }) => token);
  expect(new Set(tokens).size).toBe(2);
  await page.context().setOffline(false);
  await trouble.waitFor({ state: 'detached' });
  const after = await view(desk, id);
  expect(after.notes.map(({ text }) => text)).toEqual(['She is calmer now.']);
  expect(after.answered.filter((one) => one.question === question)).toHaveLength(1);
  expect(after.seq).toBeGreaterThan(before.seq);
  expect(await page.evaluate(`localStorage.getItem('call-desk:waiting:${id}')`)).toBeNull();
});

test('what waits is sent by the next page when the first one was closed', async () => {
  const { id, question } = await aCallAsking();
  const page = await openCall(id);
  await ready(page);
  await page.route('**/turns', (route) => route.abort());
  await page.keyboard.press('n');
  await page.locator('#trouble').waitFor();
  const second = await page.context().newPage();
  await page.close();
  await second.goto(`${desk.address}/calls/${id}`);
  await second.locator(`main[data-ready]:not([data-ready="${question}"])`).waitFor();
  expect((await view(desk, id)).answered.filter((one) => one.question === question)).toHaveLength(1);
});

test('two nurses: the second sees the call move, and an answer to a question that is gone is not counted', async () => {
  const { id, question } = await aCallAsking();
  const first = await openCall(id);
  const second = await openCall(id, desk.as('lead-nurse'));
  await ready(first);
  await ready(second);
  // The second is cut off from the news for as long as it takes to press a key.
  await second.route('**/turns', async (route) => {
    await answerWith(first, 'n');
    await route.continue();
  });
  await second.keyboard.press('u');
  const trouble = second.locator('#trouble');
  await trouble.waitFor();
  expect(await trouble.innerText()).toContain('Somebody else has moved this call on');
  expect(await trouble.innerText()).toContain('know');
  await second.unroute('**/turns');
  const now = await ready(second);
  expect(now).not.toBe(question);
  expect((await view(desk, id)).question?.id).toBe(now);
  await trouble.getByRole('button').click();
  // Without a key of its own it is told by itself, and shows the same question as the first.
  const next = await answerWith(first, 'n');
  await second.locator(`main[data-ready="${next}"]`).waitFor();
  expect(await second.locator('.elsewhere').innerText()).toContain('Somebody else');
});

test('a server that is started again goes on with the same question, and takes the answer that waited', async () => {
  const { id, question } = await aCallAsking();
  const page = await openCall(id);
  await ready(page);
  await desk.stop();
  await page.keyboard.press('n');
  await page.locator('#trouble').waitFor();
  desk = await desk.again();
  await page.locator(`main[data-ready]:not([data-ready="${question}"])`).waitFor();
  expect(await page.locator('#trouble').count()).toBe(0);
  expect((await view(desk, id)).answered.filter((one) => one.question === question)).toHaveLength(1);
});

test('a session that is over keeps the call: sign in beside it, and it goes on', async () => {
  const { id } = await aCallAsking();
  const page = await openCall(id);
  await ready(page);
  const cookies = await page.context().cookies();
  await page.context().clearCookies();
  await page.keyboard.press('n');
  const link = page.getByRole('link', { name: 'Sign in in a new tab' });
  await link.waitFor();
  expect(await link.getAttribute('target')).toBe('_blank');
  await page.context().addCookies(cookies);
  await moved(page, () => page.getByRole('button', { name: 'Try now' }).click());
  expect(await page.locator('#trouble').count()).toBe(0);
});

test('a browser that is killed finds the call again at the same question', async () => {
  const { id, question } = await aCallAsking();
  const profile = await launchPersistent(desk);
  await profile.page.goto(`${desk.address}/calls/${id}`);
  expect(await ready(profile.page)).toBe(question);
  await profile.kill();
  const again = await profile.again();
  await again.page.goto(desk.address);
  await again.page.locator('.lists .call-line a', { hasText: 'Marisol Quennell' }).first().click();
  await ready(again.page);
  await again.page.goto(`${desk.address}/calls/${id}`);
  expect(await ready(again.page)).toBe(question);
  await again.remove();
});
