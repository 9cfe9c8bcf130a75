/**
 * Source: the practice's own rules for what a promise means (practice rules, common practice), worked by hand;
 * clock changes of 29 March and 25 October 2026 in London (IANA time zone database); Easter Sunday is 5 April 2026.
 */
import { describe, expect, test } from 'vitest';
import {
  promiseTime,
  sameDayCanBeMet,
  type OpeningHours,
  type Promised,
} from '../../src/clinical/promise-time.ts';

const WEEKDAY = { opens: '08:00', closes: '18:00' };
const HOURS: OpeningHours = {
  zone: 'Europe/London',
  week: {
    monday: WEEKDAY,
    tuesday: WEEKDAY,
    wednesday: WEEKDAY,
    thursday: WEEKDAY,
    friday: WEEKDAY,
    saturday: null,
    sunday: null,
  },
  closedDates: ['2026-04-03', '2026-04-06'],
};
const ALWAYS_CLOSED: OpeningHours = {
  ...HOURS,
  week: {
    monday: null,
    tuesday: null,
    wednesday: null,
    thursday: null,
    friday: null,
    saturday: null,
    sunday: null,
  },
};

const at = (text: string): number => Date.parse(text);
const promised = (now: string, hours = HOURS): Promised => ({ now: at(now), hours, visitMinutes: 60 });

// 2026-03-06 is a Friday; London keeps UTC until 29 March.
describe('same-day', () => {
  test.each([
    ['2026-03-06T07:59Z', false],
    ['2026-03-06T08:00Z', true],
    ['2026-03-06T17:00Z', true],
    ['2026-03-06T17:01Z', false],
    ['2026-03-06T17:30Z', false],
    ['2026-03-06T18:00Z', false],
    ['2026-03-06T03:00Z', false],
    ['2026-03-07T10:00Z', false],
    ['2026-04-03T10:00Z', false],
    // 17:30 British Summer Time
    ['2026-06-05T16:30Z', false],
    ['2026-06-05T15:59Z', true],
  ])('at %s it can be met: %s', (now, canBeMet) => {
    expect(sameDayCanBeMet(promised(now))).toEqual({ ok: true, value: canBeMet });
  });

  test('how long a visit needs is for the practice to say', () => {
    const late = promised('2026-03-06T17:30Z');
    expect(sameDayCanBeMet({ ...late, visitMinutes: 30 })).toEqual({ ok: true, value: true });
    expect(sameDayCanBeMet({ ...late, visitMinutes: 31 })).toEqual({ ok: true, value: false });
    const atClosing = { ...promised('2026-03-06T18:00Z'), visitMinutes: 0 };
    expect(sameDayCanBeMet(atClosing)).toEqual({ ok: true, value: false });
  });

  test.each([
    ['2026-03-06T10:00Z', '2026-03-06T16:00Z'],
    ['2026-03-06T12:00Z', '2026-03-06T18:00Z'],
    ['2026-03-06T14:00Z', '2026-03-06T18:00Z'],
  ])('at %s it is due at %s: 6 hours or closing', (now, dueAt) => {
    expect(promiseTime('same-day', promised(now))).toEqual({
      ok: true,
      value: { within: 'same-day', beginBy: null, dueAt: at(dueAt) },
    });
  });

  test.each(['2026-03-06T17:30Z', '2026-03-06T03:00Z', '2026-03-07T10:00Z'])(
    'at %s it becomes 1-hour, as it cannot be met',
    (now) => {
      const hourly = promiseTime('1-hour', promised(now));
      expect(hourly).toMatchObject({ value: { within: '1-hour' } });
      expect(promiseTime('same-day', promised(now))).toEqual(hourly);
    },
  );
});

describe('the others', () => {
  test('now is due at once, none never', () => {
    const now = promised('2026-03-06T10:00Z');
    expect(promiseTime('now', now)).toEqual({
      ok: true,
      value: { within: 'now', beginBy: now.now, dueAt: now.now },
    });
    expect(promiseTime('none', now)).toEqual({
      ok: true,
      value: { within: 'none', beginBy: null, dueAt: null },
    });
  });

  test('1-hour: ringing has begun in 20 minutes, spoken with in 60', () => {
    expect(promiseTime('1-hour', promised('2026-03-07T23:50Z'))).toEqual({
      ok: true,
      value: { within: '1-hour', beginBy: at('2026-03-08T00:10Z'), dueAt: at('2026-03-08T00:50Z') },
    });
  });

  test('next-day is 36 hours, weekends and clock changes included', () => {
    expect(promiseTime('next-day', promised('2026-03-28T10:00Z'))).toMatchObject({
      value: { within: 'next-day', dueAt: at('2026-03-29T22:00Z') },
    });
  });

  test.each([
    ['Monday in hours: Tuesday', '2026-03-02T10:00Z', 'next-working-day', '2026-03-03T18:00Z'],
    ['Monday before opening: the same Monday', '2026-03-02T00:30Z', 'next-working-day', '2026-03-02T18:00Z'],
    ['Friday 08:00: Monday opens 72 h later', '2026-03-06T08:00Z', 'next-working-day', '2026-03-09T18:00Z'],
    ['Saturday: Monday', '2026-03-07T10:00Z', 'next-working-day', '2026-03-09T18:00Z'],
    [
      'clocks go forward: Monday opens 71 h later',
      '2026-03-27T08:00Z',
      'next-working-day',
      '2026-03-30T17:00Z',
    ],
    ['clocks go back: 73 h, so next-day', '2026-10-23T07:00Z', 'next-day', '2026-10-24T19:00Z'],
    ['before Easter: Tuesday is too far', '2026-04-02T09:00Z', 'next-day', '2026-04-03T21:00Z'],
    ['Easter Saturday 07:00: 72 h', '2026-04-04T07:00Z', 'next-working-day', '2026-04-07T17:00Z'],
    ['Easter Saturday 06:59: a minute too far', '2026-04-04T06:59Z', 'next-day', '2026-04-05T18:59Z'],
  ])('next-working-day, %s', (_name, now, within, dueAt) => {
    expect(promiseTime('next-working-day', promised(now))).toEqual({
      ok: true,
      value: { within, beginBy: null, dueAt: at(dueAt) },
    });
  });

  test('next-working-day of a practice that never opens is next-day', () => {
    const never = promiseTime('next-working-day', promised('2026-03-02T10:00Z', ALWAYS_CLOSED));
    expect(never).toMatchObject({ value: { within: 'next-day' } });
  });

  test('planned-visit: a date is given within 2 working days, seen within 14 days', () => {
    expect(promiseTime('planned-visit', promised('2026-03-06T10:00Z'))).toEqual({
      ok: true,
      value: { within: 'planned-visit', beginBy: at('2026-03-10T18:00Z'), dueAt: at('2026-03-20T10:00Z') },
    });
    expect(promiseTime('planned-visit', promised('2026-03-06T10:00Z', ALWAYS_CLOSED))).toMatchObject({
      value: { beginBy: at('2026-03-08T10:00Z'), dueAt: at('2026-03-20T10:00Z') },
    });
  });

  test('an unknown zone and a clock time that does not exist are refused', () => {
    const noZone = promised('2026-03-06T10:00Z', { ...HOURS, zone: 'Tern/Quay' });
    const badWeek = { ...HOURS.week, friday: { opens: '08:00', closes: '25:00' } };
    const badClock = promised('2026-03-06T10:00Z', { ...HOURS, week: badWeek });
    for (const wrong of [noZone, badClock]) {
      expect(sameDayCanBeMet(wrong)).toMatchObject({ ok: false, fault: { code: 'bad-request' } });
      expect(promiseTime('same-day', wrong)).toMatchObject({ ok: false });
    }
    expect(promiseTime('next-working-day', noZone)).toMatchObject({ ok: false });
    expect(promiseTime('planned-visit', noZone)).toMatchObject({ ok: false });
  });
});
