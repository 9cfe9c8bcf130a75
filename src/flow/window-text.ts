/** Day and hour windows as they are written in flow files: `"0-14"`, `7`. */
import { z } from 'zod';
import { LAST_DAY } from '../clinical/window.ts';

const LAST_HOUR = 72;

function span(last: number) {
  return z
    .union([z.number().int(), z.string().regex(/^\d+-\d+$/, `days or hours as from-to, at most ${last}`)])
    .transform((text): readonly [number, number] => {
      const [from, to] = String(text).split('-').map(Number);
      return [from ?? 0, to ?? from ?? 0];
    })
    .refine(
      ([from, to]) => from >= 0 && from <= to && to <= last,
      `from-to with from <= to, within 0-${last}`,
    );
}

/** Days since surgery, inclusive, 0-365. */
export const daysSchema = span(LAST_DAY);
/** Whole hours since the end of surgery, inclusive, 0-72. */
export const hoursSchema = span(LAST_HOUR);
