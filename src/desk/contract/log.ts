/** GET /api/log: the lead nurse's log of calls; GET /api/log/:id: one call re-read; POST marks it as reviewed. */
import { z } from 'zod';
import { momentSchema, outcomeSchema } from './common.ts';
import { callLineSchema } from './calls.ts';
import { promiseSchema } from './promises.ts';
import { recordAnswerSchema } from './record.ts';

const text = z.string().max(100);

/** What is left out does not narrow. Days are the practice's own, both counted in. */
export const logFilterSchema = z.strictObject({
  from: z.exactOptional(z.iso.date()),
  to: z.exactOptional(z.iso.date()),
  channel: z.exactOptional(callLineSchema.shape.channel),
  procedure: z.exactOptional(text),
  /** Days since surgery, as `0` or `0-3`. */
  day: z.exactOptional(z.string().regex(/^\d{1,3}(-\d{1,3})?$/)),
  outcome: z.exactOptional(outcomeSchema.shape.outcome),
  about: z.exactOptional(text),
  /** A staff id. */
  by: z.exactOptional(text),
  /** All of these words were said or written in the call. */
  words: z.exactOptional(z.string().max(200)),
  reviewed: z.exactOptional(z.enum(['yes', 'no'])),
});
export type LogFilter = Readonly<z.infer<typeof logFilterSchema>>;

const reviewedSchema = z.strictObject({
  at: momentSchema,
  by: z.string(),
  /** Null when it can no longer be read. */
  comment: z.string().nullable(),
});

const logLineSchema = z.strictObject({
  ...callLineSchema.shape,
  /** Days since surgery when the call began; null when not known. */
  day: z.number().nullable(),
  /** The possible complication that led. */
  about: z.string().nullable(),
  /** Null when no person did anything in it. */
  takenBy: z.string().nullable(),
  reviewed: z.boolean(),
});
export type LogLine = Readonly<z.infer<typeof logLineSchema>>;

const choiceSchema = z.strictObject({ id: z.string(), title: z.string() });

export const logAnswerSchema = z.strictObject({
  lines: z.array(logLineSchema).readonly(),
  /** How many calls of these days were looked at, and whether there were more. */
  looked: z.number(),
  more: z.boolean(),
  /** How many of them, the newest, were read for words; null when no words were asked for. */
  readForWords: z.number().nullable(),
  from: z.string(),
  to: z.string(),
  choices: z.strictObject({
    procedures: z.array(choiceSchema).readonly(),
    concerns: z.array(choiceSchema).readonly(),
    staff: z.array(choiceSchema).readonly(),
  }),
});
export type LogAnswer = Readonly<z.infer<typeof logAnswerSchema>>;

const moveSchema = z.strictObject({
  at: momentSchema,
  by: z.string(),
  outcome: outcomeSchema,
  points: z.array(z.strictObject({ title: z.string(), points: z.number() })).readonly(),
  reasons: z.array(z.string()).readonly(),
});
export type LogMove = Readonly<z.infer<typeof moveSchema>>;

export const logCallAnswerSchema = z.strictObject({
  line: logLineSchema,
  record: recordAnswerSchema,
  /** Every time the outcome or the points moved, in order. */
  moves: z.array(moveSchema).readonly(),
  promises: z.array(promiseSchema).readonly(),
  /** Single answers that would have led elsewhere, by today's reading of the script that the call ran on. */
  wouldHaveChanged: z
    .array(
      z.strictObject({ finding: z.string(), was: z.string(), instead: z.string(), outcome: outcomeSchema }),
    )
    .readonly(),
  reviews: z.array(reviewedSchema).readonly(),
});
export type LogCallAnswer = Readonly<z.infer<typeof logCallAnswerSchema>>;

/** The id is made by the page, so that sending it again marks nothing twice. */
export const reviewSchema = z.strictObject({ id: z.uuidv7(), comment: z.string().trim().max(4000) });
