/** One table turns faults into HTTP statuses and exit statuses. */
import { expect, test } from 'vitest';
import { FAULT_ANSWERS, statusOf } from '../../src/server/errors.ts';

// RFC 9110, section 15: 400 Bad Request, 403 Forbidden, 404 Not Found, 409 Conflict, 422 Unprocessable Content,
// 503 Service Unavailable.
test.each([
  ['bad-request', 400],
  ['needs-clinician', 403],
  ['not-found', 404],
  ['not-now', 409],
  ['stale', 409],
  ['out-of-range', 422],
  ['store-down', 503],
] as const)('%s answers %i', (code, status) => {
  expect(statusOf(code)).toBe(status);
});

test('every fault answers as an error, and a command ends with 1 or 2', () => {
  for (const { status, exit } of Object.values(FAULT_ANSWERS)) {
    expect(status).toBeGreaterThanOrEqual(400);
    expect([1, 2]).toContain(exit);
  }
});

// The commands' table: exit status 2 is unusable input, with nothing half done.
test('content that cannot be loaded ends with 2', () => {
  expect(FAULT_ANSWERS['flow-unloadable'].exit).toBe(2);
});
