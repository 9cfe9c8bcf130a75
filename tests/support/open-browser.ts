/** One page in the browser of the tests. */
import { chromium, type Page } from 'playwright-core';
import { findChromium } from './find-chromium.ts';

export interface OpenBrowser {
  readonly page: Page;
  readonly close: () => Promise<void>;
}

export async function openBrowser(): Promise<OpenBrowser> {
  const { executablePath, args, env } = await findChromium();
  const browser = await chromium.launch({ executablePath, args: [...args], env });
  const page = await browser.newPage();
  return { page, close: () => browser.close() };
}
