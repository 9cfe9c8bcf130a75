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

/** POST /api/calls/:id/hear: what was understood of words that the caller volunteered. Nothing of it counts yet. */
export const hearSchema = z.strictObject({ text: z.string().min(1).max(4000) });

const heardLineSchema = z.strictObject({
  finding: z.string(),
  value,
  /** The words that it was read from. */
  words: z.string(),
});
export type HeardLine = Readonly<z.infer<typeof heardLineSchema>>;

export const heardAnswerSchema = z.strictObject({ heard: z.array(heardLineSchema).readonly() });
export type HeardAnswer = Readonly<z.infer<typeof heardAnswerSchema>>;
