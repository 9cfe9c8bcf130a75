/** The events of a call as typed data: every type with its own shape, whatever release wrote it. */
import { z } from 'zod';
import type { Millis } from '../basics/clock.ts';
import type { Actor, StoredEvent } from './call-store.ts';
import { CAME, pagingSchema, RUNG_NAMES, TRIED } from './attempt.ts';
import { PROMISE_RESULTS } from './input.ts';
import { contextSchema, earlierCallSchema, factIdSchema, timeSchema } from './context.ts';
import { TAKEN } from './heard.ts';
import { ASIDES } from './input.ts';
import { readEvent } from './upcast.ts';

const value = z.union([z.string(), z.number()]);
const findings = z.record(z.string(), value);
const correction = z.enum(['mis-keyed', 'taken-back']).nullable();
const question = z.string();
const outcome = contextSchema.shape.told.unwrap();
const nothing = z.null();
const text = z.object({ text: z.string() }).nullable();
const why = z.object({ why: z.string() }).nullable();
const clinician = z.object({ clinician: z.string() }).nullable();
const plainOutcome = { outcome: z.string(), within: z.string(), emergency: z.boolean() };

/** One shape for each type; `sealed` is null where nothing was sealed, or what was sealed is erased. */
const recordedSchema = z.discriminatedUnion('type', [
  shape('call-started', {
    open: z.object({
      channel: z.enum(['desk', 'line', 'trial', 'text', 'terminal', 'replay']),
      direction: z.enum(['patient-rang', 'planned-check', 'call-back']),
      zone: z.string(),
      clinic: z.enum(['open', 'closed']),
      flow: z.string(),
      hash: z.string(),
      lexicon: z.string(),
      program: z.string(),
    }),
    sealed: z.object({ callerNumber: z.string().nullable() }).nullable(),
  }),
  shape('heard', {
    open: z.object({
      question: question.nullable(),
      how: z.enum(['speech', 'keys']),
      confidence: z.number(),
      aside: z.enum(ASIDES).nullable(),
      taken: z.enum(TAKEN),
      value: value.nullable(),
      findings,
      confirm: z.array(z.string()),
      danger: z.boolean(),
    }),
    sealed: text,
  }),
  shape('opening-heard', { open: z.object({}), sealed: text }),
  shape('identified', {
    open: z.object({
      procedures: z.array(z.string()),
      flow: z.string(),
      hash: z.string(),
      times: z.array(timeSchema),
      clinic: z.enum(['open', 'closed']),
      earlierCalls: z.array(earlierCallSchema),
    }),
    sealed: z.record(z.string(), z.string()).nullable(),
  }),
  shape('question-put', {
    open: z.object({ question, again: z.boolean(), words: z.string() }),
    sealed: nothing,
  }),
  shape('answered', {
    open: z.object({ question, value, correction, asksAgain: z.boolean() }),
    sealed: nothing,
  }),
  shape('fact-written', {
    open: z.object({ question, fact: factIdSchema.nullable() }),
    sealed: text,
  }),
  shape('volunteered', {
    open: z.object({ findings, correction }),
    sealed: z.object({ words: z.string().nullable() }).nullable(),
  }),
  shape('reopened', { open: z.object({ question }), sealed: nothing }),
  shape('finding-settled', {
    open: z.object({
      finding: z.string(),
      value,
      how: z.enum(['asked', 'group', 'volunteered', 'record']),
      question: question.nullable(),
      was: value.nullable(),
    }),
    sealed: nothing,
  }),
  shape('finding-withdrawn', { open: z.object({ finding: z.string(), was: value }), sealed: nothing }),
  shape('finding-taken-back', {
    open: z.object({ finding: z.string(), stands: value, now: value }),
    sealed: nothing,
  }),
  shape('assessed', {
    open: z.object({
      outcome,
      act: z.string(),
      concerns: z.record(z.string(), z.number()),
      redFlags: z.array(z.string()),
      reasons: z.array(
        z.object({ text: z.string(), source: z.string(), from: z.string(), to: outcome, points: z.number() }),
      ),
    }),
    sealed: nothing,
  }),
  shape('noted', { open: z.object({}), sealed: text }),
  shape('broke', {
    open: z.object({ input: z.string() }),
    sealed: z.object({ sent: z.string() }).nullable(),
  }),
  shape('cut-off', { open: z.object({ how: z.enum(['hung-up', 'stopped']) }), sealed: nothing }),
  shape('told', {
    open: z.object({ ...plainOutcome, act: z.string(), words: z.array(z.string()) }),
    sealed: nothing,
  }),
  shape('raised', {
    // A call whose script is gone is raised by the program, which names the script it goes on with.
    open: z.object({ ...plainOutcome, flow: z.exactOptional(z.string()), hash: z.exactOptional(z.string()) }),
    sealed: why,
  }),
  shape('lowering-asked', { open: z.object(plainOutcome), sealed: why }),
  shape('lowered', {
    open: z.object({ ...plainOutcome, spokeToPatient: z.boolean() }),
    sealed: z.object({ clinician: z.string(), why: z.string() }).nullable(),
  }),
  shape('accepted', {
    // Absent where the clinician accepted in person, and in every call from before people signed in.
    open: z.object({ ...plainOutcome, reported: z.exactOptional(z.literal(true)) }),
    sealed: clinician,
  }),
  shape('handover-written', { open: z.object({}), sealed: text }),
  shape('promised', { open: contextSchema.shape.promises, sealed: nothing }),
  shape('attempted', {
    open: z.object({
      what: z.enum(TRIED),
      message: z.string().nullable(),
      promise: z.string().nullable(),
      rung: z.enum(RUNG_NAMES).nullable(),
      staff: z.string().nullable(),
      came: z.enum(CAME),
      providerId: z.string().nullable(),
    }),
    sealed: nothing,
  }),
  shape('paging-moved', { open: z.object({ paging: pagingSchema.nullable() }), sealed: nothing }),
  shape('promise-kept', {
    open: z.object({
      promise: z.string().nullable(),
      kind: z.enum(['review', 'call-back']),
      result: z.enum(PROMISE_RESULTS),
    }),
    sealed: text,
  }),
  shape('closed', {
    open: z.object({ understood: z.boolean() }),
    sealed: z.object({ agreed: z.string() }).nullable(),
  }),
]);

function shape<TType extends string, TOpen extends z.ZodType, TSealed extends z.ZodType>(
  type: TType,
  parts: { readonly open: TOpen; readonly sealed: TSealed },
) {
  return z.object({ type: z.literal(type), ...parts });
}

export type Recorded = z.infer<typeof recordedSchema> & {
  readonly seq: number;
  readonly at: Millis;
  readonly by: Actor;
  /** The key of what was sealed is gone. */
  readonly erased: boolean;
};
export type RecordedOf<TType extends Recorded['type']> = Extract<Recorded, { readonly type: TType }>;

/** Throws on a shape that no release wrote: the record is not guessed at. */
export function readRecorded(stored: StoredEvent): Recorded {
  const { seq, at, by, erased } = stored;
  return { ...recordedSchema.parse(readEvent(stored)), seq, at, by, erased };
}
