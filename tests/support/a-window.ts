/** A real browser on a running desk: pages signed in as somebody, what axe finds, and what the page logged as wrong. */
import { AxeBuilder } from '@axe-core/playwright';
import { chromium, type Browser, type BrowserContext, type Page } from 'playwright-core';
import { expect } from 'vitest';
import type { Desk } from './a-desk.ts';
import { findChromium } from './find-chromium.ts';
import { browserCookies } from './sign-in-as.ts';

export async function launchBrowser(): Promise<Browser> {
  return chromium.launch(await findChromium());
}

export interface SignedIn {
  readonly context: BrowserContext;
  readonly page: Page;
  /** Errors that the page threw or its policy refused. */
  readonly wrong: readonly string[];
}

/** A window of its own, with its own storage, at an address of the desk. */
export async function openAt(browser: Browser, desk: Desk, path: string): Promise<SignedIn> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
  await context.addCookies(await browserCookies(desk));
  const page = await context.newPage();
  const wrong: string[] = [];
  page.on('pageerror', (error) => wrong.push(error.message));
  page.on('response', (response) => {
    if (response.status() === 404) wrong.push(`404 ${response.url()}`);
  });
  page.on('console', (message) => {
    if (message.type() === 'error' && !message.text().startsWith('Failed to load'))
      wrong.push(message.text());
  });
  await page.goto(`${desk.address}${path}`);
  return { context, page, wrong };
}

/** WCAG 2.1 A and AA and best practices, as axe-core tests them, in the light and in the dark look. */
export async function expectAccessible(page: Page): Promise<void> {
  for (const theme of ['light', 'dark']) {
    await page.evaluate(`document.documentElement.dataset.theme = '${theme}'`);
    const { violations } = await new AxeBuilder({ page }).analyze();
    const found = violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`);
    expect(found, theme).toEqual([]);
  }
  await page.evaluate(`document.documentElement.dataset.theme = 'machine'`);
}

/** Goes with the tabulator key alone to what fits the selector. */
export async function tabTo(page: Page, selector: string): Promise<void> {
  const target = page.locator(selector).first();
  for (let step = 0; step < 150; step += 1) {
    if (await target.evaluate((element) => element === element.ownerDocument.activeElement)) return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`The tabulator key does not come to ${selector}.`);
}
