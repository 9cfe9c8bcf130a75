/** Many calls made by chance stand where the deciding functions say, after every event. */
import { expect, test } from 'vitest';
import { runnerOf } from '../../src/call/step.ts';
import { flowsOf } from '../../src/prove/library-flows.ts';
import { callByChance } from '../support/call-by-chance.ts';
import { realContent } from '../support/real-flows.ts';
import { seeded } from '../support/seeded.ts';

const CALLS = 20_000;
/** Another seed than that of the short form. */
const SEED = 51_900_000;

test(`${String(CALLS)} calls, from seed ${String(SEED)} on`, () => {
  const { single, derived } = flowsOf(realContent().library);
  const runners = [...single, ...derived].map(runnerOf);
  let places = 0;
  for (let at = 0; at < CALLS; at += 1) {
    const chance = seeded(SEED + at);
    const call = callByChance(chance.pick(runners), chance);
    const apart = call.find(({ expected, found }) => JSON.stringify(expected) !== JSON.stringify(found));
    expect(apart, `seed ${String(SEED + at)}`).toBeUndefined();
    places += call.length;
  }
  console.log(`${String(CALLS)} calls, ${String(places)} places compared, from seed ${String(SEED)}`);
  expect(places).toBeGreaterThan(CALLS * 5);
});
