/** GET /api/promises, and the promises of one call: who owes what by when. */
import { z } from 'zod';
import { momentSchema, outcomeSchema } from './common.ts';

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
