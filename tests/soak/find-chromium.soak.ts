/** Several test processes may need the browser at the same moment on a fresh machine. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import { expect, test } from 'vitest';
import { unpackChromium } from '../support/find-chromium.ts';
import { tempDir } from '../support/temp-dir.ts';

test('three that unpack at once all get a whole browser, and leave one copy', async () => {
  const folder = tempDir();
  const target = join(folder, 'chromium');
  const titles = await Promise.all([1, 2, 3].map(() => titleFrom(target)));
  expect(titles).toEqual(['Tern Quay', 'Tern Quay', 'Tern Quay']);
  expect(readdirSync(folder)).toEqual(['chromium']);
});

async function titleFrom(target: string): Promise<string> {
  const browser = await chromium.launch(await unpackChromium(target));
  const page = await browser.newPage();
  await page.goto('data:text/html,<title>Tern Quay</title>');
  const title = await page.title();
  await browser.close();
  return title;
}
