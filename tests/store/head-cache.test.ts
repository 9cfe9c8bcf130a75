/** The cache of chain ends holds the lately used calls and no more. */
import { expect, it } from 'vitest';
import type { CallId } from '../../src/basics/ids.ts';
import { headCache } from '../../src/store/head-cache.ts';

const [a, b, c] = ['a', 'b', 'c'] as [CallId, CallId, CallId];
const head = {
  seq: 1,
  hash: 'h',
  key: null,
  wrapped: null,
  wrappedBy: null,
  patientId: null,
  operationId: null,
};

it('a full cache forgets the call that was used longest ago', () => {
  const heads = headCache(2);
  for (const call of [a, b, a, c]) heads.put(call, head);
  expect([a, b, c].map((call) => heads.get(call) !== undefined)).toEqual([true, false, true]);
});

it('a forgotten call is not known', () => {
  const heads = headCache(2);
  heads.put(a, head);
  heads.forget(a);
  expect(heads.get(a)).toBeUndefined();
});
