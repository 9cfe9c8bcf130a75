/** GET /api/find: patients with their operations, as the record has them. Earlier calls are not part of it. */
import { z } from 'zod';

/** Null means not recorded; it is shown as such and never as "no". */
export const operationSchema = z.strictObject({
  id: z.string(),
  what: z.string(),
  side: z.enum(['left', 'right', 'both', 'middle']).nullable(),
  surgeon: z.string(),
  on: z.string(),
  /** Day 0 is the day of surgery; null when the date cannot be read. */
  day: z.number().nullable(),
  /** Whole hours since the end of surgery, in the first 72 only. */
  hours: z.number().nullable(),
  anaesthetic: z.enum(['general', 'sedation', 'spinal-or-regional', 'local']).nullable(),
  drain: z.boolean().nullable(),
  implant: z.boolean().nullable(),
  block: z.boolean().nullable(),
  mesh: z.boolean().nullable(),
  packsOrSplints: z.boolean().nullable(),
  /** Name of the blood thinner; empty when none is prescribed. */
  bloodThinner: z.string().nullable(),
});
export type OperationShape = Readonly<z.infer<typeof operationSchema>>;

export const patientSchema = z.strictObject({
  id: z.string(),
  name: z.string(),
  born: z.string(),
  bornShown: z.string(),
  telephones: z.array(z.string()).readonly(),
  allergies: z.array(z.string()).readonly(),
  maySpeakWith: z.array(z.string()).readonly(),
});
export type PatientShape = Readonly<z.infer<typeof patientSchema>>;

export const foundSchema = z.strictObject({
  patient: patientSchema,
  operations: z.array(operationSchema).readonly(),
});
export type Found = Readonly<z.infer<typeof foundSchema>>;

export const findAnswerSchema = z.strictObject({
  /** False when what was typed is no telephone number, name or birth date. */
  understood: z.boolean(),
  found: z.array(foundSchema).readonly(),
  /** More match than are shown. */
  more: z.boolean(),
});
export type FindAnswer = Readonly<z.infer<typeof findAnswerSchema>>;
