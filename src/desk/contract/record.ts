/** GET /api/calls/:id/record: the call as its own events tell it. */
import { z } from 'zod';

const lineSchema = z.strictObject({
  text: z.string(),
  /** 0 stands by itself; 1 and more belong to the line before. */
  depth: z.number(),
});

export const recordAnswerSchema = z.strictObject({
  id: z.string(),
  /** Something of it can no longer be read. */
  erased: z.boolean(),
  title: z.string(),
  head: z.array(z.string()).readonly(),
  sections: z.array(z.strictObject({ title: z.string(), lines: z.array(lineSchema).readonly() })).readonly(),
});
export type RecordAnswer = Readonly<z.infer<typeof recordAnswerSchema>>;
