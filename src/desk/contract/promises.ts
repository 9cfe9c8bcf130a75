/** GET /api/promises, the promises of one call, and what became of one: who owes what by when. */
import { z } from 'zod';
import { callIdSchema, momentSchema, outcomeSchema, tokenSchema } from './common.ts';

export const promiseSchema = z.strictObject({
  id: z.string(),
  call: z.string(),
  kind: z.enum(['escalation', 'review', 'call-back']),
  state: z.enum(['open', 'done', 'withdrawn']),
  owner: z.string(),
  /** Null where the desk owns it. */
  ownerTelephone: z.string().nullable(),
  due: momentSchema.nullable(),
  overdue: z.boolean(),
  within: outcomeSchema.shape.within.nullable(),
  emergency: z.boolean(),
});
export type PromiseShape = Readonly<z.infer<typeof promiseSchema>>;

export const promisesAnswerSchema = z.strictObject({
  promises: z.array(z.strictObject({ ...promiseSchema.shape, patient: z.string().nullable() })).readonly(),
  /** More are open than are shown. */
  more: z.boolean(),
});
export type PromisesAnswer = Readonly<z.infer<typeof promisesAnswerSchema>>;

/** POST /api/promises/:id/done. */
export const promiseDoneSchema = z.strictObject({
  token: tokenSchema,
  call: callIdSchema,
  /** A visit was booked, the caller was spoken to, or nobody was reached, which leaves it open. */
  result: z.enum(['booked', 'spoken', 'not-reached']),
  /** What was agreed or heard. */
  text: z.string().max(4000),
});

export const promiseDoneAnswerSchema = z.strictObject({ promise: promiseSchema });
export type PromiseDoneAnswer = Readonly<z.infer<typeof promiseDoneAnswerSchema>>;
