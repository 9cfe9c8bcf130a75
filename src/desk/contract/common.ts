/** Shapes that several answers of the desk share. */
import { z } from 'zod';

export const outcomeSchema = z.strictObject({
  outcome: z.enum(['advise', 'arrange-review', 'urgent-escalation']),
  within: z.enum(['now', '1-hour', 'same-day', 'next-day', 'next-working-day', 'planned-visit', 'none']),
  emergency: z.boolean(),
});
export type OutcomeShape = Readonly<z.infer<typeof outcomeSchema>>;

/** Somebody to ring, with the number as it is dialled and as it is read. */
export const contactSchema = z.strictObject({
  name: z.string(),
  what: z.string(),
  dial: z.string(),
  shown: z.string(),
});
export type Contact = Readonly<z.infer<typeof contactSchema>>;

/** One person of the on-call ladder. */
export const rungSchema = z.strictObject({
  rung: z.enum(['first', 'second', 'consultant', 'last-resort']),
  name: z.string(),
  dial: z.string(),
  shown: z.string(),
});
export type RungShape = Readonly<z.infer<typeof rungSchema>>;

/** `dial` is what is dialled; `choose` what to choose once it answers. */
export const publicNumberSchema = z.strictObject({
  dial: z.string(),
  say: z.string(),
  choose: z.string().nullable(),
});

/** A moment as the practice's own calendar and clock show it. */
export const momentSchema = z.strictObject({ at: z.number(), shown: z.string() });
export type Moment = Readonly<z.infer<typeof momentSchema>>;

export const faultSchema = z.strictObject({
  fault: z.strictObject({ code: z.string(), message: z.string() }),
  /** Whom to ring when the desk itself fails. */
  ring: z.array(rungSchema).readonly(),
});
export type FaultShape = Readonly<z.infer<typeof faultSchema>>;

/** Made by the page; unique in its call, and the same for every try of the same act. */
export const tokenSchema = z.string().min(8).max(60);
export const callIdSchema = z.uuidv7();
