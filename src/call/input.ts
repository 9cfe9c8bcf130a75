/** What may come into a call, from any channel: the one shape that desk, line, text, terminal and replay send. */
import { z } from 'zod';
import type { OperationId, PatientId } from '../basics/ids.ts';
import { CAME, RUNG_NAMES, TRIED } from './attempt.ts';
import { earlierCallSchema, factIdSchema, outcomeSchema, timeSchema } from './context.ts';

const words = z.string().max(4000);
const value = z.union([z.string().max(100), z.number()]);
const findings = z.record(z.string().max(60), value);
const correction = z.enum(['mis-keyed', 'taken-back']);
const question = z.string().max(80);

/** What a caller may want of a spoken line besides answering it. */
export const ASIDES = [
  'silence',
  'repeat',
  'person',
  'wrong',
  'keys-only',
  'interpreter',
  'identity',
  'said-back',
  'other',
] as const;

export const PROMISE_RESULTS = ['booked', 'spoken', 'not-reached'] as const;

/** An invented or recorded operation that no store knows: the terminal and replay bring it along. */
const broughtSchema = z.strictObject({
  procedures: z.array(z.string()).min(1),
  surgeon: z.exactOptional(z.string().max(120)),
  times: z.array(timeSchema).min(1),
  clinic: z.enum(['open', 'closed']),
  earlierCalls: z.array(earlierCallSchema),
  known: findings,
  facts: z.partialRecord(factIdSchema, z.string()),
});

export const inputSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('start'),
    channel: z.enum(['desk', 'line', 'trial', 'text', 'terminal', 'replay']),
    direction: z.enum(['patient-rang', 'planned-check', 'call-back']),
    /** E.164, as the telephone shows it; null when it is withheld. */
    callerNumber: z.string().max(20).nullable(),
  }),
  /** The caller's first words, kept as said. */
  z.strictObject({ kind: z.literal('opening'), text: words }),
  z.strictObject({
    kind: z.literal('identify'),
    patientId: z.string().transform((id) => id as PatientId),
    operationId: z.string().transform((id) => id as OperationId),
    /** Dates of surgery that the caller gives and the record does not: both are scored. */
    statedDates: z.array(z.string().regex(/^\d{4}-\d{2}-\d{2}$/)).max(3),
  }),
  z.strictObject({ kind: z.literal('operation'), operation: broughtSchema }),
  z.strictObject({
    kind: z.literal('answer'),
    question,
    value,
    correction: correction.nullable(),
  }),
  z.strictObject({ kind: z.literal('fact'), question, text: words.min(1) }),
  /** Facts that the caller volunteered, ticked or read from words; the words are kept as said. */
  z.strictObject({
    kind: z.literal('volunteer'),
    findings,
    words: words.nullable(),
    correction: correction.nullable(),
  }),
  /** A spoken or keyed reply as it reached the line, and what the line takes it for. */
  z.strictObject({
    kind: z.literal('heard'),
    /** The question that was put; null when the words belong to none. */
    question: question.nullable(),
    text: words,
    /** As the recogniser gives it; 0 when it gives none, 1 for keys. */
    confidence: z.number().min(0).max(1),
    how: z.enum(['speech', 'keys']),
    /** Not an answer: what the caller wants of the line instead. */
    aside: z.enum(ASIDES).nullable(),
    /** The reply to a reading back: the answer that was read back, and whether it is right. */
    confirms: z.strictObject({ value, right: z.boolean() }).nullable(),
    correction: correction.nullable(),
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
    clinician: z.string().trim().min(1).max(120),
    spokeToPatient: z.boolean(),
    why: words.min(1),
  }),
  z.strictObject({
    kind: z.literal('accept'),
    clinician: z.string().trim().min(1).max(120),
    /** Somebody else says that the clinician accepted: the escalation stays open until the clinician does. */
    reported: z.exactOptional(z.literal(true)),
  }),
  /** What came of a try to reach a clinician or the caller, or of sending a text. */
  z.strictObject({
    kind: z.literal('attempt'),
    what: z.enum(TRIED),
    /** The message of the outbox that it was; null for one that was dialled from the call itself. */
    message: z.string().max(200).nullable(),
    rung: z.enum(RUNG_NAMES).nullable(),
    staff: z.string().max(120).nullable(),
    came: z.enum(CAME),
    /** What the provider calls it. */
    providerId: z.string().max(100).nullable(),
  }),
  /** What became of a review or call-back; `not-reached` leaves it open. */
  z.strictObject({
    kind: z.literal('promise-kept'),
    promise: z.enum(['review', 'call-back']),
    result: z.enum(PROMISE_RESULTS),
    text: words,
  }),
  /** The caller would like to have the advice as a text. */
  z.strictObject({ kind: z.literal('send-advice') }),
  z.strictObject({ kind: z.literal('close'), understood: z.boolean(), agreed: words }),
]);
export type TurnInput = z.infer<typeof inputSchema>;
