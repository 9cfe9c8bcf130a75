/** Pictures and sheets are made from the compiled script: nothing that counts on those days may be missing on them. */
import { SaxesParser } from 'saxes';
import { describe, expect, it } from 'vitest';
import { findingsIn } from '../../src/clinical/condition.ts';
import { askedOn, dayWindowsOf, touches } from '../../src/prove/picture/day-windows.ts';
import { effectWords, isOnlyUnsure } from '../../src/prove/picture/answer-words.ts';
import { pictureOf } from '../../src/prove/picture/graph.ts';
import { sheetOf } from '../../src/prove/picture/sheet.ts';
import { escaped, svgOf } from '../../src/prove/picture/svg.ts';
import { openBrowser } from '../support/open-browser.ts';
import { realContent } from '../support/real-flows.ts';

const { library } = realContent();
const lesion = library.flowFor(['skin-lesion']).flow;
const HEAD = { practice: 'Tern Quay Clinic', hash: 'f'.repeat(64), state: 'unsigned, not approved for use' };

describe('the runs of days of a picture', () => {
  it.each([...library.procedures, 'general'])('%s: every day from 0 to 365 once', (id) => {
    const windows = dayWindowsOf(library.flowFor([id]).flow);
    const days = windows.flatMap(([from, to]) =>
      Array.from({ length: to - from + 1 }, (_none, at) => from + at),
    );
    expect(days).toEqual(Array.from({ length: 366 }, (_none, at) => at));
  });
});

describe('a picture', () => {
  it('is well-formed SVG in which every question asked without prompting and every outcome it leads to is written', async () => {
    const days = dayWindowsOf(lesion)[0] ?? [0, 0];
    const svg = await svgOf(pictureOf(lesion, days), { title: 'Skin lesion <first days>', note: 'Note' });
    const parser = new SaxesParser();
    const texts: string[] = [];
    parser.on('text', (text) => texts.push(text.trim()));
    parser.write(svg).close();
    const words = texts.join(' ').replace(/\s+/g, ' ');
    for (const { spoken } of askedOn(lesion, days)) expect(words).toContain(spoken);
    expect(words).toContain('Emergency number now');
    expect(words).toContain('Skin lesion <first days>');
  });

  it('leads from every danger of the screen to the emergency number', () => {
    const days = dayWindowsOf(lesion)[0] ?? [0, 0];
    const { edges } = pictureOf(lesion, days);
    const screen = askedOn(lesion, days).filter(({ tier, kind }) => tier === 'screen' && kind === 'group');
    expect(screen.length).toBeGreaterThanOrEqual(4);
    for (const { id, findings } of screen) {
      const straight = edges.filter(({ from, to }) => from === `question ${id}` && to === 'outcome 7');
      expect(straight.length, id).toBeGreaterThanOrEqual(findings.length);
    }
  });
});

/** Runs in the page. */
const IS_CUT = `[...document.querySelectorAll('section:not(.on)')].map(
  (one) => one.scrollWidth > one.clientWidth + 1 || one.scrollHeight > one.clientHeight + 1)`;

describe('the sheets', () => {
  it('hold every rule of every run of days, with its outcome, why and source', () => {
    const html = sheetOf(lesion, HEAD);
    const wanted = lesion.rules
      .filter(({ if: condition }) => !isOnlyUnsure(condition))
      .flatMap(({ because, source, effect }) => [
        because,
        source,
        ...(effect.kind === 'points' ? [] : [effectWords(lesion, effect)]),
      ]);
    const said = dayWindowsOf(lesion).flatMap((days) => [
      ...askedOn(lesion, days).map(({ words }) => words),
      ...lesion.aftercare.filter(({ window }) => touches(window, days)).map(({ say }) => say),
    ]);
    expect([...wanted, ...said].filter((text) => !html.includes(escaped(text)))).toEqual([]);
    expect(lesion.rules.some(({ if: condition }) => findingsIn(condition).length > 1)).toBe(true);
  });

  it('print on two A4 pages for each run of days, with nothing cut off', async () => {
    const { page, close } = await openBrowser();
    try {
      await page.setContent(sheetOf(lesion, HEAD));
      await page.emulateMedia({ media: 'print' });
      const cut: unknown = await page.evaluate(IS_CUT);
      expect(cut).toEqual(dayWindowsOf(lesion).flatMap(() => [false, false]));
    } finally {
      await close();
    }
  });
});
