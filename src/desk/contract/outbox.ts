/** GET /api/outbox: what was sent, waits or is late, and how it went. */
import { z } from 'zod';
import { momentSchema } from './common.ts';

export const outboxAnswerSchema = z.strictObject({
  messages: z
    .array(
      z.strictObject({
        id: z.string(),
        call: z.string(),
        kind: z.enum(['page', 'text', 'ring', 'notice']),
        /** Which words, by id. */
        template: z.string(),
        state: z.enum(['queued', 'sending', 'sent', 'delivered', 'failed', 'shown', 'withdrawn']),
        /** Who was or is reached; null is whoever is next on the ladder when it falls due. */
        to: z.string().nullable(),
        due: momentSchema,
        /** It should have left by now. */
        overdue: z.boolean(),
        tries: z.number(),
      }),
    )
    .readonly(),
});
export type OutboxAnswer = Readonly<z.infer<typeof outboxAnswerSchema>>;
