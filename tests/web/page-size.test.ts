/** What a browser loads before a page shows, counted from the build's own manifest. */
import { gzipSync } from 'node:zlib';
import { beforeAll, expect, test } from 'vitest';
import { buildPage, loadedFor } from '../../src/server/build-page.ts';
import type { PageFiles } from '../../src/server/pages.ts';

let files: PageFiles;
beforeAll(async () => {
  files = await buildPage();
});

/** Kilobytes of a thousand, compressed as a server in front of this one compresses. */
function kilobytes(source: string): number {
  const scripts = loadedFor(source).map((name) => files.scripts.get(name) ?? '');
  expect(scripts.every((text) => text !== '')).toBe(true);
  return scripts.reduce((sum, text) => sum + gzipSync(text).length, 0) / 1_000;
}

test('the page of a call loads less than 180 kB of script', () => {
  const size = kilobytes('client/call/call-page.tsx');
  // It holds React at least, which is 60 kB: less would mean that nothing was counted.
  expect(size).toBeGreaterThan(60);
  expect(size).toBeLessThan(180);
});

test('each page has a script of its own, which the first page does not load', () => {
  const first = loadedFor('client/main.tsx');
  for (const page of ['call/call-page', 'record/record-page', 'log/log-page', 'log/log-call-page']) {
    const [own] = loadedFor(`client/${page}.tsx`);
    expect(first).not.toContain(own);
  }
});
