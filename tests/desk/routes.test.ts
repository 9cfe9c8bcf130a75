/** The table of endpoints is the interface that the contract names. */
import { expect, test } from 'vitest';
import { ROUTES } from '../../src/desk/routes.ts';

test('each address has one endpoint a method, and no two share one', () => {
  const addresses = ROUTES.map(({ method, path }) => `${method} ${path}`);
  expect(new Set(addresses).size).toBe(addresses.length);
  expect(new Set(ROUTES.map(({ answer }) => answer)).size).toBe(ROUTES.length);
});

test('only what changes a call is a POST', () => {
  expect(ROUTES.filter(({ method }) => method === 'post').map(({ path }) => path)).toEqual([
    '/api/calls',
    '/api/calls/:id/turns',
    '/api/calls/:id/hear',
    '/api/promises/:id/done',
    '/api/log/:id/reviewed',
  ]);
});
