/** Every demo call, rung on the real server by keys and by speech, with the clinic open and closed. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { aDesk, bothWays, ringable, type Desk } from '../line/simulator/rings-demo-calls.ts';

describe.each(['open', 'closed'] as const)('with the clinic %s', (clinic) => {
  const demos = ringable(clinic);
  let desk: Desk;
  beforeAll(async () => {
    desk = await aDesk(clinic, demos);
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
});
