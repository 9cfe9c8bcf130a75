/** GET /api/calls/:id/record: the call as its own events tell it. */
import { z } from 'zod';
import { momentSchema } from './common.ts';

export const recordAnswerSchema = z.strictObject({
  id: z.string(),
  lines: z
    .array(
      z.strictObject({
        seq: z.number(),
        at: momentSchema,
        by: z.string(),
        what: z.string(),
        /** One text a line; "erased" where something was sealed and its key is gone. */
        details: z.array(z.string()).readonly(),
      }),
    )
    .readonly(),
});
export type RecordAnswer = Readonly<z.infer<typeof recordAnswerSchema>>;
