/** The ids that the page makes are UUIDs of version 7, as the server's own are. */
import { expect, test } from 'vitest';
import { newId as serverId } from '../../src/basics/ids.ts';
import { newId } from '../../src/web/client/browser.ts';
import { callIdSchema } from '../../src/desk/contract/common.ts';

// RFC 9562, section 5.7: version 7 in the 13th digit, the variant 8, 9, a or b in the 17th.
test('they have the form of the standard, are accepted by the contract, and differ', () => {
  const ids = Array.from({ length: 500 }, () => newId());
  const form = /^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;
  expect(ids.filter((id) => !form.test(id))).toEqual([]);
  expect(ids.every((id) => callIdSchema.safeParse(id).success)).toBe(true);
  expect(new Set(ids).size).toBe(ids.length);
});

// The first 48 bits are the Unix time in milliseconds, so that ids sort by age; the server's come from the uuid package.
test('they sort among the server’s own by the time at which they were made', () => {
  const time = (id: string): string => id.replaceAll('-', '').slice(0, 12);
  const made = [serverId(), newId(), serverId(), newId(), serverId()].map(time);
  expect(made.toSorted()).toEqual(made);
});
