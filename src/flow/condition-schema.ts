/** Conditions as they are written: `{fever: yes, pain-score: {at-least: 7}}`, or a list of such for "any of". */
import { z } from 'zod';
import type { Condition, Test } from '../clinical/finding.ts';

const value = z.union([z.string(), z.number()]);
const bound = z
  .strictObject({
    'at-least': z.exactOptional(z.number()),
    'at-most': z.exactOptional(z.number()),
  })
  .refine((given) => Object.keys(given).length > 0, 'at-least or at-most with a number');

/** All of at most three tests. `[a, b]` is one of these values; `unsure` may stand among them. */
const row = z
  .record(z.string(), z.union([value, z.array(value).min(1), bound]))
  .transform((tests): readonly Test[] =>
    Object.entries(tests).flatMap(([finding, wanted]): Test[] => {
      if (Array.isArray(wanted)) return [{ finding, in: wanted }];
      if (typeof wanted !== 'object') return [{ finding, in: [wanted] }];
      const least = wanted['at-least'];
      const most = wanted['at-most'];
      return [
        ...(least === undefined ? [] : [{ finding, atLeast: least }]),
        ...(most === undefined ? [] : [{ finding, atMost: most }]),
      ];
    }),
  )
  .refine((tests) => tests.length >= 1 && tests.length <= 3, 'one to three tests');

export const conditionSchema = z
  .union([row, z.array(row).min(1)])
  .transform((given): Condition => (isRows(given) ? given : [given]));

function isRows(
  given: readonly Test[] | readonly (readonly Test[])[],
): given is readonly (readonly Test[])[] {
  return Array.isArray(given[0]);
}
