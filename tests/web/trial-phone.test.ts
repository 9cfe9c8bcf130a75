/** The trial phone in a real browser: rings, presses keys, speaks by typing, plays the clinician, hangs up. */
import { AxeBuilder } from '@axe-core/playwright';
import { chromium, type Browser, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { aDesk, type Desk } from '../support/a-desk.ts';
import { findChromium } from '../support/find-chromium.ts';

let desk: Desk;
let browser: Browser;
let page: Page;
const trouble: string[] = [];

beforeAll(async () => {
  desk = await aDesk('small');
  browser = await chromium.launch(await findChromium());
  page = await (await browser.newContext()).newPage();
  page.on('pageerror', (error) => trouble.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') trouble.push(message.text());
  });
  await page.goto(`${desk.address}/trial-phone`);
  // Without sound no test waits for a voice.
  await page.getByLabel('Sound').uncheck();
});
afterAll(async () => {
  await browser.close();
  await desk.remove();
});

const press = (key: string): Promise<void> =>
  page.getByRole('group', { name: 'Keypad' }).getByRole('button', { name: key, exact: true }).click();

describe('a trial call', () => {
  test('is heard from the first words, with what to do in an emergency', async () => {
    await page.getByRole('button', { name: 'Ring the line' }).click();
    await page.getByText('dial 9 9 9', { exact: false }).first().waitFor();
  });

  test('has no accessibility trouble that can be found by rule', async () => {
    await page.getByRole('group', { name: 'Keypad' }).waitFor();
    // axe-core's rules for WCAG 2.2 A and AA.
    const { violations } = await new AxeBuilder({ page })
      .withTags(['wcag2a', 'wcag2aa', 'wcag22aa'])
      .analyze();
    expect(violations.map(({ id }) => id)).toEqual([]);
  });

  test('rings the ladder for 0, and whoever plays the clinician hears the whisper and accepts', async () => {
    await press('0');
    await page.getByRole('button', { name: 'Busy' }).click();
    // The call comes by day: the desk was busy, and the first clinician is next.
    await page.getByRole('button', { name: 'Pick up' }).click();
    await page.getByRole('button', { name: 'Press 1: accept' }).click();
    await page.getByRole('button', { name: 'End this conversation' }).click();
    await page.getByText('The call is over.').waitFor();
  });

  test('takes typed speech', async () => {
    await page.getByRole('button', { name: 'Ring the line' }).click();
    await page.getByLabel('Say (typed)').fill('no, none of those');
    await page.getByRole('button', { name: 'Say it' }).click();
    await page.getByText('You: no, none of those').waitFor();
    await page.getByRole('button', { name: 'Hang up' }).click();
    await page.getByText('The call is over.').waitFor();
  });

  test('leaves no trouble in the browser', () => {
    expect(trouble).toEqual([]);
  });
});
