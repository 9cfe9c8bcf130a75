/** GET /api/calls/:id/findings: everything that a caller can volunteer in this call. */
import { z } from 'zod';

const value = z.union([z.string(), z.number()]);

export const findingLineSchema = z.strictObject({
  id: z.string(),
  group: z.string(),
  is: z.string(),
  options: z.array(z.strictObject({ value, label: z.string() })).readonly(),
  number: z
    .strictObject({
      unit: z.string().nullable(),
      min: z.number().nullable(),
      max: z.number().nullable(),
      step: z.number(),
    })
    .nullable(),
  /** Yes is the worse answer, so that one tick says it. */
  tick: z.boolean(),
  value: value.nullable(),
});
export type FindingLine = Readonly<z.infer<typeof findingLineSchema>>;

export const findingsAnswerSchema = z.strictObject({ findings: z.array(findingLineSchema).readonly() });
export type FindingsAnswer = Readonly<z.infer<typeof findingsAnswerSchema>>;
