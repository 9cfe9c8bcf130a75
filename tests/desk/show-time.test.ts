/** Moments as people at the practice say them. */
import { expect, test } from 'vitest';
import { moment, showDate } from '../../src/desk/show-time.ts';

const here = { now: Date.parse('2026-03-10T10:00:00Z'), zone: 'Europe/London' };

// 10 March 2026 was a Tuesday (ISO 8601 calendar).
test.each([
  ['2026-03-10T10:05:00Z', 'today 10:05'],
  ['2026-03-11T00:00:00Z', 'tomorrow 00:00'],
  ['2026-03-09T23:59:59Z', 'yesterday 23:59'],
  ['2026-03-13T08:00:00Z', 'Fri 13 Mar 2026 08:00'],
  // Summer time from 29 March 2026, 01:00 UTC: the clock shows an hour more.
  ['2026-03-30T10:00:00Z', 'Mon 30 Mar 2026 11:00'],
])('%s reads "%s"', (instant, shown) => {
  expect(moment(Date.parse(instant), here).shown).toBe(shown);
});

test('a moment that no calendar has is said to be unknown', () => {
  expect(moment(Number.NaN, here).shown).toBe('time not known');
});

test('a date reads day before month, and what is no date stays as it is', () => {
  expect(showDate('1984-05-17')).toBe('17 May 1984');
  expect(showDate('soon')).toBe('soon');
});
