/** Command: a picture of every page into `.build/screenshots`, for people to look at. */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { chromium, type Page } from 'playwright-core';
import { aDesk } from './a-desk.ts';
import { answerAll, beginCall, ready } from './desk-page.ts';
import { findChromium } from './find-chromium.ts';
import { browserCookies } from './sign-in-as.ts';
import { projectFolder } from './project-files.ts';

const folder = join(projectFolder, '.build', 'screenshots');
mkdirSync(folder, { recursive: true });

async function shoot(page: Page, name: string): Promise<void> {
  await page.evaluate('window.scrollTo(0, 0)');
  await page.screenshot({ path: join(folder, `${name}.png`), fullPage: true });
}

async function calmCall(page: Page): Promise<void> {
  await beginCall(page, 'Quennell');
  await shoot(page, '03-first-words');
  await page.keyboard.type('One breast feels a bit bigger than the other since last night');
  await page.keyboard.press('Enter');
  await ready(page);
  await shoot(page, '04-danger-question');
  await page.keyboard.press('/');
  await page.locator('dialog').waitFor();
  await shoot(page, '05-volunteer');
  await page.keyboard.press('Escape');
  await page.keyboard.press('!');
  await page.locator('dialog').waitFor();
  await shoot(page, '06-danger-now');
  await page.keyboard.press('Escape');
  await answerAll(page, { until: 'identity' });
  await shoot(page, '07-identity');
  await answerAll(page, { until: 'temperature' });
  await shoot(page, '08-number');
  await answerAll(page, {});
  await shoot(page, '09-outcome');
}

async function urgentCall(page: Page): Promise<void> {
  await beginCall(page, '07700 900103');
  await page.keyboard.press('Enter');
  await ready(page);
  await answerAll(page, { keys: { 'screen-breath-or-chest': 'y', breathless: 'y' }, until: 'where-now' });
  await shoot(page, '10-emergency');
  await answerAll(page, {});
  await page.keyboard.press('t');
  await page.locator('.done').first().waitFor();
  await page.getByLabel('Clinician who accepts, by name').fill('Dr Ines Carrow');
  await page.keyboard.press('Enter');
  await page.getByText('Accepted by Dr Ines Carrow').waitFor();
  await shoot(page, '11-accepted');
  await page.goto(`${page.url()}/record`);
  await page.locator('.record').first().waitFor();
  await shoot(page, '12-record');
  await page.emulateMedia({ media: 'print' });
  await shoot(page, '13-record-printed');
  await page.emulateMedia({ media: 'screen' });
}

const desk = await aDesk('real');
const browser = await chromium.launch(await findChromium());
try {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
  const page = await context.newPage();
  await page.goto(desk.address);
  await shoot(page, '00-sign-in');
  await context.addCookies(await browserCookies(desk));
  await page.goto(desk.address);
  await page.locator('#find').waitFor();
  await shoot(page, '01-home');
  await page.locator('#find').fill('Quennell');
  await page.keyboard.press('Enter');
  await page.locator('.match').waitFor();
  await shoot(page, '02-found');
  await calmCall(page);
  await page.goto(desk.address);
  await urgentCall(page);
  await page.goto(desk.address);
  await page.locator('.lists li').first().waitFor();
  await shoot(page, '14-home-with-calls');
  await page.evaluate("document.documentElement.dataset.theme = 'dark'");
  await shoot(page, '15-home-dark');
  await page.locator('.lists .promise a').first().click();
  await page.locator('[role=alert]').waitFor();
  await shoot(page, '16-emergency-dark');
  await page.setViewportSize({ width: 390, height: 844 });
  await shoot(page, '17-emergency-telephone');
  await context.addCookies(await browserCookies(desk.as('lead-nurse')));
  await page.setViewportSize({ width: 1280, height: 900 });
  await page.goto(`${desk.address}/log`);
  await page.locator('tbody tr').first().waitFor();
  await shoot(page, '18-log');
  await page.locator('tbody a').first().click();
  await page.locator('.moves').waitFor();
  await shoot(page, '19-call-re-read');
} finally {
  await browser.close();
  await desk.remove();
}
