/** How dates, clock times, telephone numbers and ids are written in the practice's data files. */
import { z } from 'zod';
import { civilTime, weekdayOf } from '../basics/civil-time.ts';

/** A day of the calendar, `YYYY-MM-DD`; the 30th of February is refused. */
export const calendarDay = z
  .string()
  .refine((text) => weekdayOf(text).ok, 'a date of the calendar as YYYY-MM-DD');

/** Clock time of the practice's zone, `HH:MM`. */
export const clockTime = z.string().regex(/^(?:[01]\d|2[0-3]):[0-5]\d$/, 'a time from 00:00 to 23:59');

/** E.164 (ITU-T): a plus sign, the country code and the number, at most 15 digits. */
export const e164 = z.string().regex(/^\+[1-9]\d{5,14}$/, 'a telephone number as + and its digits (E.164)');

/** A number that only works inside its country, such as the emergency number, or one in E.164 form. */
export const dialled = z
  .string()
  .regex(
    /^(?:\d{3,6}|\+[1-9]\d{5,14})$/,
    'a short number of 3 to 6 digits or a telephone number in E.164 form',
  );

export const zoneName = z
  .string()
  .refine((zone) => civilTime(0, zone).ok, 'an IANA time zone such as Europe/London');

export const someText = z.string().trim().min(1, 'text that is not empty');

/** A short stable name that files and records refer to: lower-case words joined by hyphens. */
export const slug = z.string().regex(/^[a-z][a-z0-9]*(?:-[a-z0-9]+)*$/, 'lower-case words joined by hyphens');
