/** One try to reach the clinician on call: whom, when, and what came of it. */
import { z } from 'zod';

/** `last-resort`: the rota named nobody. */
export const RUNG_NAMES = ['first', 'second', 'consultant', 'last-resort'] as const;
export type RungName = (typeof RUNG_NAMES)[number];

/**
 * What came of a try. `sent`: it rings, nothing is known yet; `shown`: nothing was dialled, the desk shows it.
 * `not-accepted`: somebody answered and pressed no key. Only `accepted` ends the ladder.
 */
export const CAME = [
  'sent',
  'shown',
  'accepted',
  'refused',
  'busy',
  'no-answer',
  'voicemail',
  'not-accepted',
  'failed',
] as const;
export type Came = (typeof CAME)[number];

export const attemptSchema = z.strictObject({
  rung: z.enum(RUNG_NAMES),
  /** Staff id. */
  staff: z.string(),
  /** UTC milliseconds of when the ringing began. */
  at: z.number(),
  came: z.enum(CAME),
  /** When that was known. */
  cameAt: z.number(),
});
export type Attempt = Readonly<z.infer<typeof attemptSchema>>;
