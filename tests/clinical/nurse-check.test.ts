/**
 * Sources: the practice's rule (a nurse rings by 10:00 on the next open day; within 24 hours on days 0 to 2), worked by
 * hand on the calendar of March 2026 (2 March is a Monday; London keeps UTC until 29 March, IANA time zone database).
 */
import { expect, test } from 'vitest';
import { nurseCheckTime } from '../../src/clinical/nurse-check.ts';
import type { OpeningHours } from '../../src/clinical/promise-time.ts';

const open = { opens: '08:00', closes: '18:00' };
const HOURS: OpeningHours = {
  zone: 'Europe/London',
  week: {
    monday: open,
    tuesday: open,
    wednesday: open,
    thursday: open,
    friday: open,
    saturday: { opens: '11:00', closes: '13:00' },
    sunday: null,
  },
  closedDates: ['2026-03-09'],
};

function check(day: number | null, at: string, hours = HOURS): string {
  return new Date(nurseCheckTime(day, Date.parse(at), hours)).toISOString().slice(0, 16);
}

test.each<[string, number | null, string, string]>([
  ['at night before an open day, the same morning', 5, '2026-03-03T03:00:00Z', '2026-03-03T10:00'],
  ['in the evening, the next morning', 5, '2026-03-03T21:00:00Z', '2026-03-04T10:00'],
  ['in opening hours, the next day that opens', 5, '2026-03-03T09:00:00Z', '2026-03-04T10:00'],
  ['where that day opens later, at its opening', 5, '2026-03-06T21:00:00Z', '2026-03-07T11:00'],
  ['over a Sunday and a closed Monday, on Tuesday', 5, '2026-03-07T20:00:00Z', '2026-03-10T10:00'],
  ['on day 2 over the same days, within 24 hours', 2, '2026-03-07T20:00:00Z', '2026-03-08T20:00'],
  ['on an unknown day too', null, '2026-03-07T20:00:00Z', '2026-03-08T20:00'],
  ['on day 3 no more', 3, '2026-03-07T20:00:00Z', '2026-03-10T10:00'],
])('%s', (_what, day, at, then) => {
  expect(check(day, at)).toBe(then);
});

test('of a practice that never opens, within 24 hours', () => {
  const never = Object.fromEntries(Object.keys(HOURS.week).map((day) => [day, null]));
  const hours: OpeningHours = { ...HOURS, week: { ...HOURS.week, ...never } };
  expect(check(5, '2026-03-03T03:00:00Z', hours)).toBe('2026-03-04T03:00');
});
