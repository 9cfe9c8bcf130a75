/** Every page in a real browser: nothing that axe finds in either look, keyboard and screen reader, words that stay words. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { expectAccessible, launchBrowser, openAt, tabTo, type SignedIn } from '../support/a-window.ts';
import { aDesk, type Desk } from '../support/a-desk.ts';
import { answerUntil, startCall, turn, view } from '../support/desk-api.ts';
import { moved, ready } from '../support/desk-page.ts';

const HOSTILE = '"><img src=x onerror="window.hit=1"><script>window.hit=1</script>{{practice}}';

/** Of flows/demo/people.yaml; a third call about one operation would be urgent by itself. */
const NOBODY_ELSE_RINGS = {
  patient: '01980000-0000-7000-8000-000000000112',
  operation: '01980000-0000-7000-8000-000000000212',
};

let desk: Desk;
let browser: Browser;
let windows: SignedIn[] = [];

beforeAll(async () => {
  desk = await aDesk('real');
  browser = await launchBrowser();
});
afterEach(async () => {
  const wrong = windows.flatMap((one) => one.wrong);
  for (const { context } of windows) await context.close();
  windows = [];
  expect(wrong).toEqual([]);
});
afterAll(async () => {
  await browser.close();
  await desk.remove();
});

async function open(path: string, as: Desk = desk): Promise<Page> {
  const opened = await openAt(browser, as, path);
  windows.push(opened);
  return opened.page;
}

/** A call that stands at its outcome. */
async function aCallAtItsEnd(): Promise<string> {
  const call = await startCall(desk, { callerNumber: '07700 900101' });
  return (await answerUntil(desk, call, {})).id;
}

describe('axe finds nothing', () => {
  test('on the first page, empty and with patients found, and when it is covered', async () => {
    const page = await open('/');
    await page.clock.install();
    await page.locator('#find').fill('quennell');
    await page.keyboard.press('Enter');
    await page.locator('.results h2:focus').waitFor();
    await expectAccessible(page);
    // Ten minutes without a key and no call open: covered, with the dangers and the numbers in sight.
    await page.clock.fastForward('10:30');
    await page.locator('.locked').waitFor();
    expect(await page.locator('.danger-words li').count()).toBeGreaterThan(8);
    expect(await page.locator('.bar').innerText()).toContain('Dr Kwabena Osei-Lund');
    expect(await page.locator('.locked').innerText()).not.toContain('Quennell');
    await expectAccessible(page);
    await page.getByRole('button', { name: 'Uncover' }).click();
    await page.locator('#find').waitFor();
  });

  test('on a question, its dialogs, a number and a text, while the desk stays open', async () => {
    const call = await startCall(desk, { callerNumber: '07700 900101' });
    const page = await open(`/calls/${call.id}`);
    await page.clock.install();
    await page.locator('#opening').waitFor();
    await expectAccessible(page);
    await page.keyboard.press('Enter');
    await page.locator('[data-question]').waitFor();
    await expectAccessible(page);
    for (const key of ['!', '/', 'm']) {
      await page.keyboard.press(key);
      await page.locator('dialog[open]').waitFor();
      await expectAccessible(page);
      await page.keyboard.press('Escape');
      await page.locator('dialog').waitFor({ state: 'detached' });
    }
    // An open call is never covered.
    await page.clock.fastForward('30:00');
    await page.clock.runFor(10_000);
    expect(await page.locator('[data-question]').count()).toBe(1);
  });

  test('on an outcome, the record, the log and a call re-read', async () => {
    const id = await aCallAtItsEnd();
    const page = await open(`/calls/${id}`);
    await page.locator('.tell').waitFor();
    await expectAccessible(page);
    await page.goto(`${desk.address}/calls/${id}/record`);
    await page.locator('.record').first().waitFor();
    await expectAccessible(page);
    const lead = await open('/log', desk.as('lead-nurse'));
    await lead.locator('tbody tr').first().waitFor();
    await expectAccessible(lead);
    await lead.locator(`tbody a[href$="${id}"]`).click();
    await lead.locator('.moves').waitFor();
    await expectAccessible(lead);
    await lead.locator('.reviews textarea').fill('Well asked.');
    await lead.locator('.reviews').getByRole('button').click();
    await lead.locator('.reviews q').getByText('Well asked.').waitFor();
  });

  test('on an urgent outcome on a telephone’s screen', async () => {
    const call = await startCall(desk, { callerNumber: '07700 900101' });
    await turn(desk, call.id, {
      kind: 'volunteer',
      findings: { breathless: 'yes' },
      words: null,
      correction: null,
    });
    const page = await open(`/calls/${call.id}`);
    await page.setViewportSize({ width: 390, height: 844 });
    await page.getByRole('alert').waitFor();
    await expectAccessible(page);
    // Nothing is wider than the screen.
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(390);
    const dial = page.getByRole('alert').locator('a[href^="tel:"]');
    expect(await dial.count()).toBeGreaterThan(3);
  });
});

describe('the keyboard alone', () => {
  test('a danger question is answered by its own key and never by Enter', async () => {
    const call = await startCall(desk, { callerNumber: '07700 900101' });
    const page = await open(`/calls/${call.id}`);
    await page.locator('#opening').waitFor();
    await page.keyboard.press('Enter');
    const first = await ready(page);
    const { seq } = await view(desk, call.id);
    await page.keyboard.press('Enter');
    await tabTo(page, '.answers button');
    await page.keyboard.press('Enter');
    expect(await page.locator('#said').innerText()).toContain('key of its answer');
    expect((await view(desk, call.id)).seq).toBe(seq);
    await moved(page, () => page.keyboard.press('n'));
    expect(await ready(page)).not.toBe(first);
    // The new question has the focus, so that a screen reader says it; what was kept is said politely.
    expect(await page.evaluate('document.activeElement.id')).toBe('question');
    expect(await page.locator('#said').getAttribute('aria-live')).toBe('polite');
    await moved(page, () => page.keyboard.press('Backspace'));
    expect(await ready(page)).toBe(first);
  });

  test('what the caller volunteers is understood, dropped or accepted, and only then counts', async () => {
    const call = await startCall(desk, { callerNumber: '07700 900101' });
    const page = await open(`/calls/${call.id}`);
    await page.locator('#opening').waitFor();
    await page.keyboard.press('Enter');
    await ready(page);
    await page.keyboard.press('/');
    await page.locator('dialog input').first().waitFor();
    await page.keyboard.type('my left calf hurts and I am short of breath');
    await page.keyboard.press('Enter');
    const heard = page.locator('.finding');
    await heard.first().waitFor();
    expect(await heard.count()).toBeGreaterThan(1);
    expect((await view(desk, call.id)).redFlags).toEqual([]);
    await page.getByRole('button', { name: /^Drop: .*breath/ }).press('Enter');
    await tabTo(page, 'dialog button[type=submit]');
    await moved(page, () => page.keyboard.press('Enter'));
    const held = (await view(desk, call.id)).answered.filter(({ how }) => how === 'volunteered');
    expect(held.map(({ finding }) => finding)).toContain('calf-pain');
    expect(held.map(({ finding }) => finding)).not.toContain('breathless');
  });

  test('a correction changes the outcome', async () => {
    const { id } = await startCall(desk, { chosen: NOBODY_ELSE_RINGS, callerNumber: '07700 900101' });
    const leg = { 'one-leg-swollen': 'yes' };
    await turn(desk, id, { kind: 'volunteer', findings: leg, words: null, correction: null });
    // Rules of a safe call: one leg swollen is urgent, within the hour, on any day to 84.
    expect((await view(desk, id)).result?.outcome.within).toBe('1-hour');
    const page = await open(`/calls/${id}`);
    await ready(page);
    const item = page.locator('.answered li', { hasText: 'said without being asked' }).first();
    await item.getByRole('button', { name: /^Change/ }).press('Enter');
    const dialog = page.locator('dialog');
    await dialog.getByRole('radio', { name: /^No\b/ }).first().press('Space');
    await dialog.getByRole('radio', { name: /^Mis-keyed/ }).press('Space');
    await moved(page, () => page.keyboard.press('Enter'));
    const after = await view(desk, id);
    expect([after.urgent, after.redFlags]).toEqual([false, []]);
  });

  test('a visit is agreed for a time of the clinic, and kept as it was read back', async () => {
    const call = await startCall(desk, { chosen: null, callerNumber: '07700 900101' });
    const { id } = await answerUntil(desk, call, {});
    const page = await open(`/calls/${id}`);
    expect(await ready(page)).toBe('outcome');
    await moved(page, () => page.keyboard.press('t'));
    await tabTo(page, '.close-card select');
    await page.keyboard.press('ArrowDown');
    const agreed = await page.locator('#agreed').inputValue();
    // flows/practice.yaml: on a Tuesday the clinic is open from 08:00; it is 10:00.
    expect(agreed).toBe('Visit at the clinic today 10:30.');
    await tabTo(page, '#understood');
    await page.keyboard.press('Space');
    await page.keyboard.press('Enter');
    await page.locator('main[data-ready="closed"]').waitFor();
    await page.getByRole('link', { name: 'Read the record' }).press('Enter');
    await page.locator('.record').first().waitFor();
    expect(await page.locator('main').innerText()).toContain(agreed);
    const review = (await view(desk, id)).promises.find(({ kind }) => kind === 'review');
    expect(review?.state).toBe('done');
  });
});

test('hostile words stay words in every field of a call', async () => {
  const page = await open('/');
  await page.locator('#find').fill(HOSTILE);
  await page.keyboard.press('Enter');
  await page.locator('.notice').first().waitFor();
  const call = await startCall(desk, { callerNumber: '07700 900101' });
  await page.goto(`${desk.address}/calls/${call.id}`);
  await page.locator('#opening').fill(HOSTILE);
  await moved(page, () => page.keyboard.press('Enter'));
  await page.keyboard.press('m');
  await page.locator('dialog textarea').fill(HOSTILE);
  await moved(page, () => page.keyboard.press('Enter'));
  await page.keyboard.press('/');
  await page.locator('dialog input').first().fill(HOSTILE);
  await page.keyboard.press('Enter');
  await page.locator('.heard').getByText('Nothing was understood').waitFor();
  await page.keyboard.press('Escape');
  await page.keyboard.press('!');
  await page.locator('dialog input').first().press('Space');
  await page.locator('dialog input[type=text]').fill(HOSTILE);
  await moved(page, () => page.keyboard.press('Enter'));
  await page.locator('#accepted-by').fill(HOSTILE);
  await moved(page, () => page.keyboard.press('Enter'));
  await moved(page, () => page.keyboard.press('t'));
  await page.locator('#words').fill(HOSTILE);
  await moved(page, () => page.keyboard.press('Enter'));
  const shown = await page.locator('main').innerText();
  expect(shown.split('<script>').length).toBeGreaterThan(3);
  expect(await page.evaluate('window.hit')).toBeUndefined();
  await page.goto(`${desk.address}/calls/${call.id}/record`);
  await page.locator('.record').first().waitFor();
  expect(await page.locator('main').innerText()).toContain(HOSTILE);
  expect(await page.evaluate('window.hit')).toBeUndefined();
});

test('a call that begins elsewhere shows by itself, with what is promised in it', async () => {
  const page = await open('/');
  const list = page.locator('.lists');
  await list.locator('h2').first().waitFor();
  const call = await startCall(desk, { chosen: null, callerNumber: '01632 960123' });
  await list.locator(`a[href="/calls/${call.id}"]`).first().waitFor();
  const danger = { kind: 'volunteer', findings: { collapse: 'yes' }, words: null, correction: null } as const;
  await turn(desk, call.id, danger);
  await list.locator('.promise', { hasText: 'Caller not identified' }).first().waitFor();
});
