/** How long a nurse waits from the key to the next question, in a real browser on this machine, and what moves meanwhile. */
import { chromium } from 'playwright-core';
import { aDesk } from '../support/a-desk.ts';
import { answerAll, beginCall } from '../support/desk-page.ts';
import { findChromium } from '../support/find-chromium.ts';
import { browserCookies } from '../support/sign-in-as.ts';
import { quantile } from './stopwatch.ts';

export interface InBrowser {
  readonly answers: number;
  readonly p50: number;
  readonly p95: number;
  /** Cumulative layout shift without recent input, as browsers define it; 0 is nothing moved. */
  readonly shift: number;
}

/** Runs in the page: notes when a key was pressed and when another question stood there. */
const WATCH = `
  window.waits = []; window.shift = 0; let pressed = null;
  addEventListener('keydown', () => { pressed = performance.now(); }, { capture: true });
  const at = () => document.querySelector('[data-question]')?.dataset.question ?? '';
  let before = at();
  new MutationObserver(() => {
    const now = at();
    if (now === before) return;
    before = now;
    if (pressed !== null && now !== '') window.waits.push(performance.now() - pressed);
    pressed = null;
  }).observe(document.body, { subtree: true, childList: true, attributes: true, attributeFilter: ['data-question'] });
  new PerformanceObserver((list) => {
    for (const one of list.getEntries()) if (!one.hadRecentInput) window.shift += one.value;
  }).observe({ type: 'layout-shift', buffered: true });
`;

export async function inBrowser(): Promise<InBrowser> {
  const desk = await aDesk('real');
  const browser = await chromium.launch(await findChromium());
  try {
    const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
    await context.addCookies(await browserCookies(desk));
    const page = await context.newPage();
    const waits: number[] = [];
    let shift = 0;
    for (const name of ['Penrose', 'Quennell', 'Ferncastle']) {
      await page.goto(desk.address);
      await page.evaluate(WATCH);
      await beginCall(page, name);
      await page.keyboard.press('Enter');
      await answerAll(page, {});
      waits.push(...(await page.evaluate<readonly number[]>('window.waits')));
      shift = Math.max(shift, Number(await page.evaluate('window.shift')));
    }
    return { answers: waits.length, p50: quantile(waits, 0.5), p95: quantile(waits, 0.95), shift };
  } finally {
    await browser.close();
    await desk.remove();
  }
}
