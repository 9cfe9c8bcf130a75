/** POST /api/calls and POST /api/calls/:id/turns: what the page may send into a call. */
import { z } from 'zod';
import { callIdSchema, outcomeSchema, tokenSchema } from './common.ts';

const words = z.string().max(4000);
const value = z.union([z.string().max(100), z.number()]);
const correction = z.enum(['mis-keyed', 'taken-back']).nullable();
const question = z.string().max(80);
const clinician = z.string().trim().min(1).max(120);

export const startSchema = z.strictObject({
  call: callIdSchema,
  token: tokenSchema,
  /** In any usual form, as the telephone shows it; null when it is withheld. */
  callerNumber: z.string().max(60).nullable(),
  direction: z.enum(['patient-rang', 'planned-check', 'call-back']),
  chosen: z.strictObject({ patient: z.string().max(80), operation: z.string().max(80) }).nullable(),
});
export type StartRequest = Readonly<z.infer<typeof startSchema>>;

export const deskInputSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('opening'), text: words }),
  z.strictObject({
    kind: z.literal('identify'),
    patientId: z.string().max(80),
    operationId: z.string().max(80),
    statedDates: z.array(z.iso.date()).max(3),
  }),
  z.strictObject({ kind: z.literal('answer'), question, value, correction }),
  z.strictObject({ kind: z.literal('fact'), question, text: words.min(1) }),
  z.strictObject({
    kind: z.literal('volunteer'),
    findings: z.record(z.string().max(60), value),
    words: words.nullable(),
    correction,
  }),
  z.strictObject({ kind: z.literal('reopen'), question }),
  z.strictObject({ kind: z.literal('back') }),
  z.strictObject({ kind: z.literal('note'), text: words.min(1) }),
  z.strictObject({ kind: z.literal('cut-off'), how: z.enum(['hung-up', 'stopped']) }),
  z.strictObject({ kind: z.literal('tell') }),
  z.strictObject({ kind: z.literal('raise'), to: outcomeSchema, why: words.min(1) }),
  z.strictObject({ kind: z.literal('ask-lowering'), to: outcomeSchema, why: words.min(1) }),
  z.strictObject({
    kind: z.literal('lower'),
    to: outcomeSchema,
    clinician,
    spokeToPatient: z.boolean(),
    why: words.min(1),
  }),
  z.strictObject({ kind: z.literal('accept'), clinician }),
  z.strictObject({
    kind: z.literal('promise-kept'),
    promise: z.enum(['review', 'call-back']),
    result: z.enum(['booked', 'spoken', 'not-reached']),
    text: words,
  }),
  z.strictObject({ kind: z.literal('close'), understood: z.boolean(), agreed: words }),
]);
export type DeskInput = Readonly<z.infer<typeof deskInputSchema>>;

/** What was on the nurse's screen; when the call stands elsewhere by then, the input is refused as stale. */
const seenSchema = z.strictObject({
  question: z.string().max(80).nullable(),
  outcome: outcomeSchema.nullable(),
});

export const turnRequestSchema = z.strictObject({
  token: tokenSchema,
  input: deskInputSchema,
  /** Null, or left out, where the input means the same wherever the call stands. */
  seen: z.exactOptional(seenSchema.nullable()),
});
export type TurnRequestShape = Readonly<z.infer<typeof turnRequestSchema>>;
