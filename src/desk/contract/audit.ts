/** GET /api/audit?q=&before=: who looked at or changed what, when and from where. */
import { z } from 'zod';
import { momentSchema } from './common.ts';

const entrySchema = z.strictObject({
  id: z.string(),
  at: momentSchema,
  who: z.strictObject({ id: z.string(), name: z.string().nullable(), role: z.string().nullable() }),
  what: z.string(),
  about: z.array(z.string()).readonly(),
  from: z.string(),
});

export const auditAnswerSchema = z.strictObject({
  entries: z.array(entrySchema).readonly(),
  /** What `before` takes for the entries that follow; null when these are the last. */
  next: z.string().nullable(),
});
export type AuditAnswer = Readonly<z.infer<typeof auditAnswerSchema>>;
