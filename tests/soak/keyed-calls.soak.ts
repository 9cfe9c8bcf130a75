/** Every demo call, rung and keyed on the line, ends as it does when it is replayed. */
import { afterAll, describe, expect, test } from 'vitest';
import { bothWays, demoCalls, stopRinging } from '../line/keyed-demo-calls.ts';

afterAll(stopRinging);

describe('a demo call by keys', () => {
  test.each(demoCalls())('$place', async ({ call, at }) => {
    const [rung, replayed] = await bothWays(call, at);
    expect(rung).toEqual(replayed);
  });
});
