/** The facts of the trade after a breast lift (common practice), as a caller on that day hears them. */
import { describe, expect, it } from 'vitest';
import { aftercareNow, normalNow } from '../../src/call/advice.ts';
import { rank } from '../../src/clinical/outcome.ts';
import type { Findings } from '../../src/clinical/finding.ts';
import { assess } from '../../src/call/assess.ts';
import { freshCircumstances } from '../../src/call/circumstances.ts';
import { runnerOf } from '../../src/call/step.ts';
import type { AftercareKind } from '../../src/flow/compiled.ts';
import { realContent } from '../support/real-flows.ts';
import { play } from './play.ts';

const { library } = realContent();
const runner = runnerOf(library.flowFor(['breast-lift']));
const { flow } = runner.compiled;

/** The answer that a caller with this question gets on this day, after a whole call in which nothing is wrong. */
function answer(ask: string, day: number, hours: number | null = null): string {
  const { standing } = play(runner, { at: { day, hours }, opening: { [ask]: 'yes' } });
  expect(standing.assessment.outcome.outcome).toBe('advise');
  const said = aftercareNow(flow, standing).filter(({ asked }) => asked);
  expect(said).toHaveLength(1);
  expect(said[0]?.source).toContain('common practice');
  return said[0]?.say ?? '';
}

function usual(day: number): string {
  return normalNow(flow, { day, hours: null }).join(' ');
}

function rungOf(day: number, findings: Findings): number {
  return rank(assess(flow, freshCircumstances({ day, hours: null }), findings).outcome);
}

describe('going home and visits', () => {
  it('home is on the first or second day, and a drain, where one is used, is out the next day', () => {
    expect(answer('asks-next-visit', 0)).toMatch(/home on day 1 or 2/);
    expect(answer('asks-next-visit', 0)).toMatch(/drain comes out the next day/);
  });

  it('the visits are at one week, with new tape and stitch ends trimmed, at about two weeks and at six weeks', () => {
    expect(answer('asks-next-visit', 5)).toMatch(/one week.*tape.*stitch ends trimmed/);
    expect(answer('asks-next-visit', 9)).toMatch(/two weeks.*six weeks/);
    expect(answer('asks-next-visit', 30)).toMatch(/six weeks/);
  });
});

describe('the first week', () => {
  const kinds: readonly [string, RegExp][] = [
    ['asks-driving', /^No driving in the first week/],
    ['asks-work', /^No work, housework or bending in the first week/],
    ['asks-exercise', /Nothing that makes you strain or bend in the first week/],
  ];

  it.each(kinds)('%s is refused from the first to the sixth day', (ask, refusal) => {
    for (const day of [0, 1, 3, 6]) expect(answer(ask, day)).toMatch(refusal);
  });

  it.each(kinds)('%s is allowed from the seventh day, and only on a condition', (ask, refusal) => {
    expect(answer(ask, 7)).not.toMatch(refusal);
    expect(answer(ask, 7)).toMatch(/You may/);
  });

  it('driving on day 7 hangs on braking hard without pain and no strong painkillers', () => {
    expect(answer('asks-driving', 7)).toMatch(/only when you can brake hard.*no strong painkillers/);
    expect(answer('asks-driving', 6)).toMatch(/Not before day 7/);
  });
});

describe('six weeks', () => {
  it('tape and a soft bra that does not squeeze stay for six weeks', () => {
    for (const day of [1, 14, 42])
      expect(answer('asks-support-garment', day)).toMatch(/soft bra that does not squeeze.*six weeks/);
    expect(answer('asks-stitches-or-tape', 42)).toMatch(/tape on the scars for six weeks/);
    expect(answer('asks-stitches-or-tape', 43)).toMatch(/No tape is needed after six weeks/);
    expect(answer('asks-support-garment', 43)).toMatch(/You may leave the bra off/);
  });

  it('scars are red and raised then, massage begins, and they are pale by about a year', () => {
    expect(usual(42)).toMatch(/red and raised by six weeks/);
    expect(answer('asks-scar-care', 41)).toMatch(/No cream, oil or rubbing before day 42/);
    expect(answer('asks-scar-care', 42)).toMatch(/You may rub the scars.*only when they are closed and dry/);
    expect(usual(300)).toMatch(/pale by about a year/);
    expect(rungOf(42, { 'scar-raised-itchy': 'yes' })).toBeLessThanOrEqual(1);
  });
});

describe('what is not the usual course', () => {
  it('is sickness beyond the first day', () => {
    expect(usual(1)).toMatch(/a little sick/);
    expect(usual(4)).toMatch(/Sickness.*should be over/);
    expect(rungOf(0, { nausea: 'queasy', 'keeps-fluids-down': 'yes' })).toBe(0);
    expect(rungOf(2, { nausea: 'vomiting' })).toBeGreaterThan(0);
  });

  it('is more than moderate pain, which begins at 7 of 10 on the numeric rating scale', () => {
    expect(usual(4)).toMatch(/more than middling pain should be over/);
    expect(rungOf(3, { 'pain-score': 4 })).toBe(0);
    for (const day of [2, 5, 10]) expect(rungOf(day, { 'pain-score': 7 })).toBeGreaterThan(0);
  });
});

describe('painkillers', () => {
  it('of the non-steroidal kind are avoided in the weeks around the operation', () => {
    for (const day of [0, 3, 13])
      expect(answer('asks-medicines', day)).toMatch(/no ibuprofen or drugs like it/);
    expect(rungOf(5, { 'ibuprofen-mg-24h': 400 })).toBeGreaterThan(0);
  });
});

it('every part of the plan says that the letter of the surgeon wins', () => {
  const kinds = new Set<AftercareKind>(flow.aftercare.map(({ kind }) => kind));
  expect(kinds.size).toBe(11);
  expect(flow.aftercare.filter(({ say }) => !say.includes("Your surgeon's own letter wins."))).toEqual([]);
});
