/** Drives the desk's page the way a nurse with a keyboard does, in a real browser. */
import type { Page } from 'playwright-core';

/** Waits until the page takes keys; answers the question it shows, or `outcome` or `closed`. */
export async function ready(page: Page): Promise<string> {
  const main = page.locator('main[data-ready]');
  await main.waitFor();
  return (await main.getAttribute('data-ready')) ?? '';
}

/** From the first page: finds by what is typed, and starts the call about the first operation. */
export async function beginCall(page: Page, typed: string): Promise<void> {
  await page.locator('#find').fill(typed);
  await page.keyboard.press('Enter');
  await page.locator('.results h2:focus').waitFor();
  await page.keyboard.press('1');
  await page.locator('#opening').waitFor();
  await ready(page);
}

/** One key, and the page that follows it. */
export async function answerWith(page: Page, key: string): Promise<string> {
  return moved(page, () => page.keyboard.press(key));
}

/** Every turn adds to the record: the page is drawn anew when it shows a later number and takes keys again. */
export async function moved(page: Page, act: () => Promise<void>): Promise<string> {
  const before = (await page.locator('main').getAttribute('data-seq')) ?? '';
  await act();
  await page.locator(`main[data-ready]:not([data-seq="${before}"])`).waitFor();
  return ready(page);
}

interface Answering {
  /** Stops before this question; left out, it goes on to the outcome. */
  readonly until?: string;
  /** Keys by question, where they are not the reassuring answer. */
  readonly keys?: Readonly<Record<string, string>>;
}

/** Answers question after question with what is usual; answers where it stopped. */
export async function answerAll(page: Page, { until, keys = {} }: Answering): Promise<string> {
  let at = await ready(page);
  while (at !== 'outcome' && at !== 'closed' && at !== until) {
    const here = at;
    at = await moved(page, () => answerOne(page, here, keys[here]));
  }
  return at;
}

/** What a patient with nothing wrong has measured; anything else was not measured. */
const MEASURED: Readonly<Record<string, string>> = { temperature: '36.8', 'pain-score': '2' };

const SAID: Readonly<Record<string, string>> = {
  'call-back-number': '07700 900101',
  'where-now': '12 Lugger Row, Saltmere',
  'who-with-you': 'My sister.',
  'can-ring-yourself': 'Yes, I have two phones.',
  'last-food-drink': 'Toast at eight, tea at nine.',
};

async function answerOne(page: Page, at: string, key: string | undefined): Promise<void> {
  if (key !== undefined) return page.keyboard.press(key);
  if ((await page.locator('#number').count()) > 0) {
    const measured = MEASURED[at];
    if (measured === undefined) return page.getByRole('button', { name: 'Not measured' }).click();
    await page.locator('#number').fill(measured);
    return page.keyboard.press('Enter');
  }
  const match = page.getByRole('button', { name: 'The caller gave this name' });
  if ((await match.count()) > 0) return page.keyboard.press('Enter');
  if ((await page.locator('#words').count()) > 0) {
    await page.locator('#words').fill(SAID[at] ?? 'Nothing new since yesterday.');
    return page.keyboard.press('Enter');
  }
  const no = page.locator('.answer', { hasText: /^N/ });
  return page.keyboard.press((await no.count()) > 0 ? 'n' : '1');
}
