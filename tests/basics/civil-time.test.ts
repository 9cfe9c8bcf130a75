/**
 * Sources: clock changes of 2026 as published in the IANA time zone database (London 29 March and 25 October, New York
 * 8 March and 1 November, Lord Howe 5 April and 4 October, by 30 minutes), worked by hand; luxon as reference library.
 */
import fc from 'fast-check';
import { DateTime } from 'luxon';
import { describe, expect, test } from 'vitest';
import {
  addDays,
  addHours,
  civilTime,
  daysBetween,
  instantOf,
  weekdayOf,
} from '../../src/basics/civil-time.ts';
import type { Result } from '../../src/basics/result.ts';

const ZONES = ['Europe/London', 'America/New_York', 'Australia/Lord_Howe', 'Pacific/Apia', 'Asia/Kathmandu'];
const FROM = Date.UTC(1996, 0, 1);
const TO = Date.UTC(2039, 0, 1);
const minutes = fc.integer({ min: FROM / 60_000, max: TO / 60_000 }).map((minute) => minute * 60_000);

function value<T>(result: Result<T, { readonly message: string }>): T {
  if (!result.ok) throw new Error(result.fault.message);
  return result.value;
}

describe('civil time', () => {
  test('dates, clocks and weekdays are those of luxon, in five zones', () => {
    fc.assert(
      fc.property(minutes, fc.constantFrom(...ZONES), (at, zone) => {
        const theirs = DateTime.fromMillis(at, { zone });
        const ours = value(civilTime(at, zone));
        expect(ours.date).toBe(theirs.toISODate());
        expect(ours.clock).toBe(theirs.toFormat('HH:mm'));
        expect(ours.weekday).toBe(theirs.setLocale('en-GB').toFormat('cccc').toLowerCase());
      }),
      { seed: 20260302, numRuns: 2000 },
    );
  });

  test('a civil time goes back to its instant, or to the earlier of two', () => {
    fc.assert(
      fc.property(minutes, fc.constantFrom(...ZONES), (at, zone) => {
        const { date, clock } = value(civilTime(at, zone));
        const back = value(instantOf(date, clock, zone));
        expect(DateTime.fromMillis(back, { zone }).toFormat('yyyy-MM-dd HH:mm')).toBe(`${date} ${clock}`);
        expect(back).toBeLessThanOrEqual(at);
      }),
      { seed: 20260302, numRuns: 2000 },
    );
  });

  test.each([
    ['2026-03-29', '01:30', 'Europe/London', '2026-03-29T01:30Z'],
    ['2026-03-08', '02:30', 'America/New_York', '2026-03-08T07:30Z'],
    ['2026-10-04', '02:15', 'Australia/Lord_Howe', '2026-10-03T15:45Z'],
  ])('a time skipped by the clocks moves forward: %s %s %s', (date, clock, zone, instant) => {
    expect(value(instantOf(date, clock, zone))).toBe(Date.parse(instant));
  });

  test.each([
    ['2026-10-25', '01:30', 'Europe/London', '2026-10-25T00:30Z'],
    ['2026-11-01', '01:30', 'America/New_York', '2026-11-01T05:30Z'],
    ['2026-04-05', '01:45', 'Australia/Lord_Howe', '2026-04-04T14:45Z'],
  ])('of a time that happens twice the earlier is taken: %s %s %s', (date, clock, zone, instant) => {
    expect(value(instantOf(date, clock, zone))).toBe(Date.parse(instant));
  });

  test('calendar days count every date once, leap days included', () => {
    expect(value(daysBetween('2028-02-28', '2028-03-01'))).toBe(2);
    expect(value(daysBetween('2026-02-28', '2026-03-01'))).toBe(1);
    expect(value(daysBetween('2026-03-02', '2026-02-28'))).toBe(-2);
    expect(value(daysBetween('2025-03-02', '2026-03-02'))).toBe(365);
  });

  test('days are added on the calendar, hours as they pass', () => {
    expect(value(addDays('2026-02-27', 3))).toBe('2026-03-02');
    expect(value(addDays('2026-03-02', -3))).toBe('2026-02-27');
    expect(addHours(Date.parse('2026-03-28T23:30Z'), 9)).toBe(Date.parse('2026-03-29T08:30Z'));
    expect(value(weekdayOf('2026-03-02'))).toBe('monday');
  });
});

describe('what is refused', () => {
  test.each(['Tern/Quay', '', '+01:00', 'Europe/London ', '12'])('zone "%s"', (zone) => {
    for (const result of [civilTime(0, zone), instantOf('2026-03-02', '09:00', zone)]) {
      expect(result).toMatchObject({ ok: false, fault: { code: 'bad-request' } });
      expect(result.ok ? '' : result.fault.message).toMatch(/time zone .* Europe\/London/);
    }
  });

  test.each(['2026-02-29', '2026-13-01', '2026-3-2', '20260302', '2026-03-02T09:00', 'yesterday'])(
    'date %s',
    (date) => {
      expect(daysBetween(date, '2026-03-02').ok).toBe(false);
      expect(daysBetween('2026-03-02', date).ok).toBe(false);
      expect(addDays(date, 1).ok).toBe(false);
      expect(weekdayOf(date).ok).toBe(false);
      expect(instantOf(date, '09:00', 'Europe/London').ok).toBe(false);
    },
  );

  test.each(['24:00', '9:00', '09:60', '09:00:00', ''])('clock time "%s"', (clock) => {
    expect(instantOf('2026-03-02', clock, 'Europe/London').ok).toBe(false);
  });

  test.each([NaN, Infinity, 0.5, 8.7e15])('instant %s', (at) => {
    expect(civilTime(at, 'Europe/London')).toMatchObject({ ok: false, fault: { code: 'out-of-range' } });
  });
});
