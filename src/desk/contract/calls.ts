/** GET /api/calls: the calls that are still open, and the newest ones. */
import { z } from 'zod';
import { momentSchema, outcomeSchema } from './common.ts';

export const callLineSchema = z.strictObject({
  id: z.string(),
  started: momentSchema,
  channel: z.enum(['desk', 'line', 'trial', 'text', 'terminal', 'replay']),
  state: z.enum(['open', 'closed']),
  /** Null while the questions go on. */
  outcome: outcomeSchema.nullable(),
  patient: z.string().nullable(),
  operation: z.string().nullable(),
});
export type CallLine = Readonly<z.infer<typeof callLineSchema>>;

export const callsAnswerSchema = z.strictObject({
  open: z.array(callLineSchema).readonly(),
  recent: z.array(callLineSchema).readonly(),
});
export type CallsAnswer = Readonly<z.infer<typeof callsAnswerSchema>>;
