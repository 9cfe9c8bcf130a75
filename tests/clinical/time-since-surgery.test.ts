/**
 * Sources: luxon as reference library for counting days; clock changes of 2026 (IANA time zone database) worked by
 * hand; CDC/NHSN manual for its day 1 being the day of surgery.
 */
import fc from 'fast-check';
import { DateTime } from 'luxon';
import { describe, expect, test } from 'vitest';
import { timeSince, timesSince } from '../../src/clinical/time-since-surgery.ts';

const LONDON = 'Europe/London';
const at = (text: string): number => Date.parse(text);

describe('day and hours since surgery', () => {
  test('the day is what luxon counts between the two dates, the hours what has elapsed', () => {
    const minute = 60_000;
    const instants = fc
      .integer({ min: Date.UTC(2015, 0, 1) / minute, max: Date.UTC(2035, 0, 1) / minute })
      .map((each) => each * minute);
    const later = fc.integer({ min: 0, max: 365 * 24 * 60 });
    const zones = fc.constantFrom(LONDON, 'America/New_York', 'Australia/Lord_Howe', 'Asia/Kathmandu');
    fc.assert(
      fc.property(instants, later, zones, (endedAt, waited, zone) => {
        const now = endedAt + waited * minute;
        const on = DateTime.fromMillis(endedAt, { zone }).toISODate() ?? '';
        const today = DateTime.fromMillis(now, { zone }).toISODate() ?? '';
        const utc = { zone: 'utc' };
        const days = DateTime.fromISO(today, utc).diff(DateTime.fromISO(on, utc), 'days').days;
        expect(timeSince({ on, endedAt }, now, zone)).toEqual({
          ok: true,
          value: { day: days, hours: Math.trunc(waited / 60) },
        });
      }),
      { seed: 20260329, numRuns: 3000 },
    );
  });

  test.each([
    // Clocks go forward on 29 March 2026 at 01:00 UTC: 23:30 to 09:00 on the wall is 8 h 30 min.
    ['2026-03-28', '2026-03-28T23:30Z', '2026-03-29T08:00Z', LONDON, 1, 8],
    // Clocks go back on 25 October 2026 at 01:00 UTC: 23:30 to 09:00 on the wall is 10 h 30 min.
    ['2026-10-24', '2026-10-24T22:30Z', '2026-10-25T09:00Z', LONDON, 1, 10],
    // New York 8 March 2026: 18:00 to 18:00 next day on the wall is 23 h.
    ['2026-03-07', '2026-03-07T23:00Z', '2026-03-08T22:00Z', 'America/New_York', 1, 23],
    // Lord Howe 5 April 2026, back by half an hour: 20:00 (+11) to 07:30 (+10:30) is 12 h.
    ['2026-04-04', '2026-04-04T09:00Z', '2026-04-04T21:00Z', 'Australia/Lord_Howe', 1, 12],
    // One minute before and at midnight in British Summer Time.
    ['2026-06-01', '2026-06-01T14:00Z', '2026-06-01T22:59Z', LONDON, 0, 8],
    ['2026-06-01', '2026-06-01T14:00Z', '2026-06-01T23:00Z', LONDON, 1, 9],
    // Surgery past midnight: the day counts from the day of surgery.
    ['2026-03-02', '2026-03-03T00:30Z', '2026-03-03T09:00Z', LONDON, 1, 8],
  ])('%s, ended %s, call %s %s: day %i, %i hours', (on, ended, call, zone, day, hours) => {
    expect(timeSince({ on, endedAt: at(ended) }, at(call), zone)).toEqual({
      ok: true,
      value: { day, hours },
    });
  });

  test('hours are whole: 59 minutes after the end is hour 0, 60 minutes hour 1', () => {
    const operation = { on: '2026-03-02', endedAt: at('2026-03-02T09:00Z') };
    expect(timeSince(operation, at('2026-03-02T09:59Z'), LONDON)).toMatchObject({ value: { hours: 0 } });
    expect(timeSince(operation, at('2026-03-02T10:00Z'), LONDON)).toMatchObject({ value: { hours: 1 } });
  });

  test('without a known end the hours are unknown', () => {
    const since = timeSince({ on: '2026-03-02', endedAt: null }, at('2026-03-02T20:00Z'), LONDON);
    expect(since).toEqual({ ok: true, value: { day: 0, hours: null } });
  });

  test('before surgery the day is negative, and an end that lies ahead gives no hours', () => {
    const operation = { on: '2026-03-04', endedAt: at('2026-03-04T12:00Z') };
    expect(timeSince(operation, at('2026-03-02T09:00Z'), LONDON)).toMatchObject({
      value: { day: -2, hours: null },
    });
    expect(timeSince(operation, at('2026-03-04T11:59Z'), LONDON)).toMatchObject({
      value: { day: 0, hours: null },
    });
  });

  test('a date that does not exist and an unknown zone are refused', () => {
    const now = at('2026-03-02T09:00Z');
    expect(timeSince({ on: '2026-02-30', endedAt: null }, now, LONDON)).toMatchObject({ ok: false });
    expect(timeSince({ on: '2026-02-28', endedAt: null }, now, 'Tern/Quay')).toMatchObject({ ok: false });
    const recorded = { on: '2026-02-28', endedAt: now };
    expect(timesSince({ recorded, stated: ['2026-02-30'] }, now, LONDON)).toMatchObject({ ok: false });
    expect(timesSince({ recorded, stated: [] }, now, 'Tern/Quay')).toMatchObject({ ok: false });
  });
});

describe('dates that disagree', () => {
  const recorded = { on: '2026-03-02', endedAt: at('2026-03-02T09:00Z') };
  const now = at('2026-03-05T20:00Z');

  test('a stated date that agrees changes nothing', () => {
    const times = timesSince({ recorded, stated: ['2026-03-02'] }, now, LONDON);
    expect(times).toEqual({ ok: true, value: [{ day: 3, hours: 83 }] });
  });

  test('another stated date is scored too, without hours', () => {
    const times = timesSince({ recorded, stated: ['2026-03-04', '2026-03-04'] }, now, LONDON);
    const expected = [
      { day: 3, hours: 83 },
      { day: 1, hours: null },
    ];
    expect(times).toEqual({ ok: true, value: expected });
  });

  test('a recorded end on another day is a second reading, and gives the recorded day no hours', () => {
    const moved = { on: '2026-03-02', endedAt: at('2026-03-05T15:00Z') };
    const expected = [
      { day: 3, hours: null },
      { day: 0, hours: 5 },
    ];
    expect(timesSince({ recorded: moved, stated: [] }, now, LONDON)).toEqual({ ok: true, value: expected });
    expect(timesSince({ recorded: moved, stated: ['2026-03-05'] }, now, LONDON)).toEqual({
      ok: true,
      value: expected,
    });
  });
});
