/** One try to reach the clinician on call: whom, when, and what came of it. */
import { z } from 'zod';

/** `last-resort`: the rota named nobody. */
export const RUNG_NAMES = ['first', 'second', 'consultant', 'last-resort'] as const;
export type RungName = (typeof RUNG_NAMES)[number];

/**
 * What came of a try. `sent`: it rings or is under way, nothing is known yet; `shown`: nothing left the practice, the
 * desk shows it; `not-accepted`: somebody answered and pressed no key. Only `accepted` ends the ladder.
 */
export const CAME = [
  'sent',
  'shown',
  'delivered',
  'accepted',
  'refused',
  'busy',
  'no-answer',
  'voicemail',
  'not-accepted',
  'failed',
] as const;
export type Came = (typeof CAME)[number];

/** `leg`: dialled from the caller's own call. `page`: rung by the outbox. `ring`: the caller is rung. */
export const TRIED = ['leg', 'page', 'ring', 'text', 'notice'] as const;
export type Tried = (typeof TRIED)[number];

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

/** Where the ladder of an open escalation stands; the last round of tries is kept. */
export const pagingSchema = z.strictObject({
  /** The escalation that is paged about. */
  promise: z.string(),
  /** How many pages were queued; the last of them waits. */
  pages: z.number().int().min(1),
  /** When the waiting page falls due. */
  nextAt: z.number(),
  attempts: z.array(attemptSchema),
});
export type Paging = Readonly<z.infer<typeof pagingSchema>>;

/** What a turn is told of one try. */
interface Tries {
  readonly what: Tried;
  readonly rung: RungName | null;
  readonly staff: string | null;
  readonly came: Came;
}

/** One word about one message counts once, however often it comes. */
export function attemptToken(message: { readonly id: string }, came: Came): string {
  return `${message.id}#${came}`;
}

const TRIES_KEPT = 6;

/** A ringing that begins is a new try; any other word ends the one that is under way, if there is one. */
export function withAttempt(attempts: readonly Attempt[], tried: Tries, now: number): readonly Attempt[] {
  const { rung, staff, came } = tried;
  if (rung === null || staff === null || (tried.what !== 'leg' && tried.what !== 'page')) return attempts;
  const at = attempts.findLastIndex((one) => one.staff === staff && one.came === 'sent');
  const under = attempts[at];
  if (came === 'sent' || under === undefined) {
    return [...attempts, { rung, staff, at: now, came, cameAt: now }].slice(-TRIES_KEPT);
  }
  return attempts.with(at, { ...under, came, cameAt: now });
}
