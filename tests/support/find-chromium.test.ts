/** The browser that tests use is really there and really reads pages. */
import { chromium } from 'playwright-core';
import { expect, test } from 'vitest';
import { findChromium } from './find-chromium.ts';

test('a browser starts, runs a script and keeps pages of different origins apart', async () => {
  const browser = await chromium.launch(await findChromium());
  try {
    const page = await browser.newPage();
    await page.goto('data:text/html,<h1>Tern Quay</h1><script>document.title=6*7</script>');
    expect(await page.textContent('h1')).toBe('Tern Quay');
    expect(await page.title()).toBe('42');
    // Fetch standard: an opaque origin may not read another one; a browser with web security off could.
    const read = await page.evaluate('fetch("file:///etc/hostname").then(() => "read", () => "refused")');
    expect(read).toBe('refused');
  } finally {
    await browser.close();
  }
});
