/** Passwords at rest are scrypt at a cost that OWASP accepts, in one form of Unicode. */
import { expect, test } from 'vitest';
import { FULL_COST, hashPassword, isPassword } from '../../../src/server/sign-in/password-hash.ts';

const CHEAP = { n: 16, r: 1, p: 1 };

test('the cost is one that OWASP accepts (Password Storage Cheat Sheet, scrypt)', () => {
  expect(FULL_COST).toEqual({ n: 2 ** 14, r: 8, p: 5 });
});

test('a hash opens for its password alone, and two hashes of one password differ', async () => {
  const [one, two] = [
    await hashPassword('seven quiet herons', CHEAP),
    await hashPassword('seven quiet herons', CHEAP),
  ];
  expect(one).not.toBe(two);
  expect(one).toMatch(/^scrypt:16:1:1:[0-9a-f]{32}:[0-9a-f]{128}$/);
  expect(await isPassword('seven quiet herons', one)).toBe(true);
  expect(await isPassword('seven quiet heron', one)).toBe(false);
});

// Unicode Standard Annex 15: the same letter composed and decomposed is one letter in NFKC.
test('a letter typed in another form of Unicode is the same letter', async () => {
  const hash = await hashPassword('caf\u00e9 by the quay', CHEAP);
  expect(await isPassword('cafe\u0301 by the quay', hash)).toBe(true);
});

test.each(['', 'plain', 'scrypt:16:1:1:00:00', 'scrypt:a:b:c:d:e'])(
  '%j is no hash and opens nothing',
  async (stored) => {
    expect(await isPassword('anything at all', stored)).toBe(false);
  },
);
