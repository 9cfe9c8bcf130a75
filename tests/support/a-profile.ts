/** A browser with a profile on disk, which can be killed as a crash would and started again on the same profile. */
import { chromium, type Page } from 'playwright-core';
import type { Desk } from './a-desk.ts';
import { findChromium } from './find-chromium.ts';
import { browserCookies } from './sign-in-as.ts';
import { makeTempDir } from './temp-dir.ts';

export interface Profile {
  readonly page: Page;
  /** Ends the browser without a word. */
  readonly kill: () => Promise<void>;
  readonly again: () => Promise<Profile>;
  readonly remove: () => Promise<void>;
}

export async function launchPersistent(desk: Desk, folder = makeTempDir()): Promise<Profile> {
  const context = await chromium.launchPersistentContext(folder.path, await findChromium());
  await context.addCookies(await browserCookies(desk));
  const page = context.pages()[0] ?? (await context.newPage());
  const session = await context.newCDPSession(page);
  const closed = new Promise<void>((resolve) => {
    context.on('close', () => resolve());
  });
  return {
    page,
    kill: async () => {
      // The command ends the process, so it is never answered.
      void session.send('Browser.crash').catch(() => undefined);
      await closed;
    },
    again: () => launchPersistent(desk, folder),
    remove: async () => {
      await context.close();
      folder.remove();
    },
  };
}
