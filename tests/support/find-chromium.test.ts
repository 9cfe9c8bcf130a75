/** The browser that tests use is really there and really reads pages. */
import { createServer } from 'node:http';
import { chromium } from 'playwright-core';
import { expect, test } from 'vitest';
import { findChromium } from './find-chromium.ts';
import { freePort } from './free-port.ts';

test('a browser starts, runs a script and keeps pages of different origins apart', async () => {
  const port = await freePort();
  const server = createServer((_request, response) => response.end('secret')).listen(port, '127.0.0.1');
  const address = `http://127.0.0.1:${String(port)}/`;
  const browser = await chromium.launch(await findChromium());
  try {
    const page = await browser.newPage();
    await page.goto('data:text/html,<h1>Tern Quay</h1><script>document.title=6*7</script>');
    expect(await page.textContent('h1')).toBe('Tern Quay');
    expect(await page.title()).toBe('42');
    // Fetch standard, "CORS check": an answer without Access-Control-Allow-Origin is not shown to another origin.
    const read = await page.evaluate(`fetch("${address}").then(() => "read", () => "refused")`);
    expect(read).toBe('refused');
    await page.goto(address);
    expect(await page.textContent('body')).toBe('secret');
  } finally {
    await browser.close();
    server.close();
  }
});
