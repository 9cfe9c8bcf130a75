/** Demo calls, rung and keyed on the line, end as they do when they are replayed; the long series rings them all. */
import { afterAll, describe, expect, test } from 'vitest';
import { bothWays, demoCalls, stopRinging } from './keyed-demo-calls.ts';

afterAll(stopRinging);

describe('a demo call by keys', () => {
  test.each(demoCalls(3))('$place', async ({ call, at }) => {
    const [rung, replayed] = await bothWays(call, at);
    expect(rung).toEqual(replayed);
  });
});
