/** When a window holds. Source: the practice's rules; a window may make a finding count less, never a danger nothing. */
import { describe, expect, test } from 'vitest';
import { ALL_DAYS, holdsAt, type Window } from '../../src/clinical/window.ts';

const at = (window: Window, day: number | null, hours: number | null = null) =>
  holdsAt(window, { day, hours });
const days = (from: number, to: number): Window => ({ days: [from, to], hours: null });

describe('a window', () => {
  test.each([-30, -1, 0, 365, 366, 5000])('over all days holds on day %i', (day) => {
    expect(at(ALL_DAYS, day)).toBe(true);
  });

  test('with a first or a last day of its own ends there', () => {
    expect([2, 3, 14, 15, 400].map((day) => at(days(3, 14), day))).toEqual([false, true, true, false, false]);
    expect([-1, 14, 15, 400].map((day) => at(days(0, 14), day))).toEqual([true, true, false, false]);
    expect([-1, 84, 85, 400].map((day) => at(days(85, 365), day))).toEqual([false, false, true, true]);
  });

  test('holds when the day or the hour is not known', () => {
    expect(at(days(3, 14), null)).toBe(true);
    expect(at({ days: [0, 1], hours: [0, 6] }, 0, null)).toBe(true);
    expect(at({ days: [0, 1], hours: [0, 6] }, 0, 7)).toBe(false);
  });
});
