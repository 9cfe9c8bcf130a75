/** Demo calls, rung on the real server by keys, end as they do when they are replayed; by speech, never lower. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { aDesk, bothWays, ringable, type Desk } from './simulator/rings-demo-calls.ts';

const EVERY = 18;
const demos = ringable('open').filter((_one, at) => at % EVERY === 0);

let desk: Desk;
beforeAll(async () => {
  desk = await aDesk('open', demos);
});
afterAll(() => desk.server.remove());

const places = demos.map(({ place }, at) => ({ place, at }));

describe('a demo call by keys', () => {
  test.each(places)('$place', async ({ at }) => {
    const { rung, replayed } = await bothWays(desk, at, 'keys');
    expect(rung).toBe(replayed);
  });
});

// What is said is understood once more with each answer, and may be understood as more; never as less.
describe('a demo call by speech', () => {
  test.each(places)('$place', async ({ at }) => {
    const { higher } = await bothWays(desk, at, 'speech');
    expect(higher).toBeGreaterThanOrEqual(0);
  });
});
