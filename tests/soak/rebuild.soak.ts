/** Many random calls: where each stands by its snapshot is where it stands by its events. */
import { expect, test } from 'vitest';
import { fixedClock } from '../support/fixed-clock.ts';
import { aPractice, NOW } from '../support/a-practice.ts';
import { bothWays } from '../support/both-ways.ts';
import { randomCall } from '../support/random-call.ts';
import { seeded } from '../support/seeded.ts';

const CALLS = 3_000;

test(`${String(CALLS)} random calls of 40 turns are rebuilt as they stand`, async () => {
  for (let seed = 0; seed < CALLS; seed += 1) {
    // A store for each, so that memory does not grow with the series.
    const practice = aPractice({ clock: fixedClock(NOW) });
    const ring = await randomCall(practice, seeded(seed), 40);
    const { kept, rebuilt } = await bothWays(practice, ring);
    expect(rebuilt, `seed ${String(seed)}`).toEqual(kept);
  }
  console.log(`${String(CALLS)} calls, seeds 0 to ${String(CALLS - 1)}`);
}, 1_800_000);
