/** What the machine knows of a call: plain JSON, checked by a schema whenever it comes back from a store. */
import { z } from 'zod';
import type { PromiseId } from '../basics/ids.ts';
import { isAllowedOutcome } from '../clinical/outcome.ts';
import { RAISED_BY } from './circumstances.ts';
import { FACTS } from '../flow/compiled.ts';
import { pagingSchema } from './attempt.ts';

/** One of the rungs that an outcome can have; any other combination is refused. */
export const outcomeSchema = z
  .object({
    outcome: z.enum(['advise', 'arrange-review', 'urgent-escalation']),
    within: z.enum(['now', '1-hour', 'same-day', 'next-day', 'next-working-day', 'planned-visit', 'none']),
    emergency: z.boolean(),
  })
  .refine(isAllowedOutcome, 'one of the allowed outcomes');

const valueSchema = z.union([z.string(), z.number()]);
export const factIdSchema = z.enum(FACTS);

/** A finding as it stands: the value that counts, and how it came. */
const heldSchema = z.strictObject({
  value: valueSchema,
  how: z.enum(['asked', 'group', 'volunteered', 'record']),
  /** The question that settled it, or null. */
  question: z.string().nullable(),
  /** What the caller says now of a danger said before; the value above goes on counting. */
  takenBackTo: valueSchema.nullable(),
});
export type Held = z.infer<typeof heldSchema>;

export const earlierCallSchema = z.strictObject({
  hoursAgo: z.number().nonnegative(),
  outcome: z.enum(['advise', 'arrange-review', 'urgent-escalation']),
  about: z.string().nullable(),
  kind: z.enum(['worried', 'asked-by-practice', 'cut-off', 'everyday']),
});

export const timeSchema = z.strictObject({
  day: z.number().int().nullable(),
  hours: z.number().int().nullable(),
});

export const CALL_BACK_REASONS = ['cut-off', 'broke', 'emergency', 'absent', 'text', 'nurse-check'] as const;
export type CallBackReason = (typeof CALL_BACK_REASONS)[number];

/** A promise as the call made it; what became of it since stands with the promise itself. */
const promiseSchema = z.strictObject({
  id: z.string().transform((id) => id as PromiseId),
  openedAt: z.number(),
  dueAt: z.number().nullable(),
  owner: z.string(),
  to: outcomeSchema,
  state: z.enum(['open', 'done']),
  /** Why somebody is rung back; null for other promises and in records from before it was kept. */
  reason: z.enum(CALL_BACK_REASONS).nullable().default(null),
});
export type PromiseMade = z.infer<typeof promiseSchema>;

export const contextSchema = z.strictObject({
  times: z.array(timeSchema).min(1),
  clinic: z.enum(['open', 'closed']),
  earlierCalls: z.array(earlierCallSchema),
  held: z.record(z.string(), heldSchema),
  /** Question ids in the order in which they were first answered. */
  asked: z.array(z.string()),
  /** Written down, never scored. */
  facts: z.partialRecord(factIdSchema, z.string()),
  /** Those of the facts that the record brought and the caller did not say; another patient's record replaces them. */
  recordFacts: z.array(factIdSchema),
  opening: z.string().nullable(),
  /** The question that was answered "I don't know" once and is put again in other words. */
  again: z.string().nullable(),
  ending: z.enum(['asking', 'finished', 'cut-off']),
  limitReached: z.boolean(),
  told: outcomeSchema.nullable(),
  raised: outcomeSchema.nullable(),
  /** Who raised it: a person, a channel without a nurse, or the program because the call's own script is gone. */
  raisedBy: z.enum(RAISED_BY).default('nurse'),
  loweringAsked: outcomeSchema.nullable(),
  lowered: z
    .strictObject({
      to: outcomeSchema,
      clinician: z.string(),
      confirmedAt: z.number(),
      spokeToPatient: z.boolean(),
    })
    .nullable(),
  /** Who accepted, and what: an outcome that rises above it is accepted anew. */
  accepted: z
    .strictObject({
      clinician: z.string(),
      at: z.number(),
      to: outcomeSchema,
      /** By the word of somebody else, and not yet confirmed by the clinician. */
      reported: z.exactOptional(z.literal(true)),
    })
    .nullable(),
  promises: z.partialRecord(z.enum(['escalation', 'review', 'call-back']), promiseSchema),
  /** Null while no escalation is open. */
  paging: pagingSchema.nullable().default(null),
});
export type CallContext = z.infer<typeof contextSchema>;

/** A call of which nothing is known: no day, no hours, nothing asked. */
export function emptyContext(): CallContext {
  return {
    times: [{ day: null, hours: null }],
    clinic: 'open',
    earlierCalls: [],
    held: {},
    asked: [],
    facts: {},
    recordFacts: [],
    opening: null,
    again: null,
    ending: 'asking',
    limitReached: false,
    told: null,
    raised: null,
    raisedBy: 'nurse',
    loweringAsked: null,
    lowered: null,
    accepted: null,
    promises: {},
    paging: null,
  };
}
