/** The questions that are announced are those that are then asked, if every answer is the usual one. */
import { expect, test } from 'vitest';
import { stillToAsk } from '../../src/desk/view/still-to-ask.ts';
import { aPractice } from '../support/a-practice.ts';
import type { Operated, Ring, Says } from '../support/a-ring.ts';

const practice = aPractice();

interface Played {
  readonly put: readonly string[];
  readonly announced: readonly (readonly string[])[];
}

/** At every question: its words, and what is announced to follow. */
async function played(operated: Operated, says: Says = {}): Promise<Played> {
  const ring = await practice.ring({ operated });
  const put: string[] = [];
  const announced: (readonly string[])[] = [];
  while (ring.question !== null) {
    put.push(ring.done.standing.question?.words ?? '');
    announced.push(announcedIn(ring));
    await ring.answerNext(says);
  }
  return { put, announced };
}

function announcedIn(ring: Ring): readonly string[] {
  return stillToAsk(ring.done.runner.compiled.flow, ring.done.standing).map(({ words }) => words);
}

// The later ones come by points that the earlier ones kept.
test.each([
  ['on day 1', { day: 1 }],
  ['on day 100', { day: 100 }],
  ['on day 1 again', { day: 1 }],
  ['on day 1 with the drain out', { day: 1, known: { 'drain-in': 'no' } }],
] satisfies readonly [string, Operated][])('%s, all along the call', async (_when, operated) => {
  const { put, announced } = await played(operated);
  expect(put.length).toBeGreaterThan(5);
  expect(announced).toEqual(put.map((_, at) => put.slice(at + 1)));
});

test('after a worrying answer what it brings up is announced as well', async () => {
  const says: Says = { swelling: 'one-sided' };
  const { put, announced } = await played({ day: 1 }, says);
  const usual = await played({ day: 1 });
  const more = put.filter((words) => !usual.put.includes(words));
  expect(more.length).toBeGreaterThan(0);
  const first = put.indexOf(more[0] ?? '');
  expect(announced[first]).toEqual(put.slice(first + 1));
});
