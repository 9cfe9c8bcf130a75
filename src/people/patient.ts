/** Who is rung about: the patient, the operation, and what contact they allow. Pure data with its checks. */
import { z } from 'zod';
import type { OperationId, PatientId } from '../basics/ids.ts';

const day = z.string().regex(/^\d{4}-\d{2}-\d{2}$/, 'a date as YYYY-MM-DD');

export const patientSchema = z.strictObject({
  id: z
    .string()
    .min(1)
    .transform((id) => id as PatientId),
  firstName: z.string().min(1),
  surname: z.string().min(1),
  born: day,
  /** E.164, mobile first. */
  telephones: z.array(z.string().regex(/^\+\d{6,15}$/, 'a telephone number in E.164 form')).min(1),
  allergies: z.array(z.string()),
  weightUnder50kg: z.boolean().nullable(),
  pregnant: z.boolean().nullable(),
  contact: z.strictObject({
    mayText: z.boolean(),
    mayLeaveMessage: z.boolean(),
    mayBeRungAt: z.array(z.string()),
    maySpeakWith: z.array(z.string()),
  }),
});
export type Patient = z.infer<typeof patientSchema>;

/** One operation; it may hold several procedures done together. Null means not recorded, never "no". */
export const operationSchema = z.strictObject({
  id: z
    .string()
    .min(1)
    .transform((id) => id as OperationId),
  patientId: z
    .string()
    .min(1)
    .transform((id) => id as PatientId),
  procedures: z.array(z.string()).min(1),
  side: z.enum(['left', 'right', 'both', 'middle']).nullable(),
  surgeon: z.string().min(1),
  /** The day of surgery in the practice's zone; day 0. */
  on: day,
  /** UTC milliseconds of the end of surgery; null when only the day is known. */
  endedAt: z.number().int().nullable(),
  anaesthetic: z.enum(['general', 'sedation', 'spinal-or-regional', 'local']).nullable(),
  implant: z.boolean().nullable(),
  mesh: z.boolean().nullable(),
  drain: z.boolean().nullable(),
  packsOrSplints: z.boolean().nullable(),
  block: z.boolean().nullable(),
  /** Prescribed blood thinner, by name; empty string when none is prescribed. */
  bloodThinner: z.string().nullable(),
});
export type Operation = z.infer<typeof operationSchema>;
