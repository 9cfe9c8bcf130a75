/** A call as the nurse sees it: the question of the moment, what is known, and what it comes to. */
import { z } from 'zod';
import { contactSchema, momentSchema, outcomeSchema, publicNumberSchema, rungSchema } from './common.ts';
import { operationSchema, patientSchema } from './people.ts';
import { promiseSchema } from './promises.ts';

const value = z.union([z.string(), z.number()]);
const texts = z.array(z.string()).readonly();

const optionSchema = z.strictObject({ value, label: z.string() });
export type Option = Readonly<z.infer<typeof optionSchema>>;

const numberSchema = z.strictObject({
  unit: z.string().nullable(),
  min: z.number().nullable(),
  max: z.number().nullable(),
  step: z.number(),
});

const questionSchema = z.strictObject({
  id: z.string(),
  tier: z.string(),
  kind: z.enum(['finding', 'group', 'fact']),
  fact: z.string().nullable(),
  words: z.string(),
  why: z.string(),
  unsureMeans: z.string(),
  /** An immediate danger or a red flag is asked: every answer needs its own key. */
  danger: z.boolean(),
  /** The same question once more, because it was answered "I don't know". */
  again: z.boolean(),
  options: z.array(optionSchema).readonly(),
  /** Set where a number is asked for. */
  number: numberSchema.nullable(),
  /** What exactly is meant, one text for each finding. */
  members: texts,
});
export type QuestionShape = Readonly<z.infer<typeof questionSchema>>;

/** One thing that was answered, noted or volunteered. */
const answeredSchema = z.strictObject({
  how: z.enum(['asked', 'group', 'fact', 'volunteered', 'record']),
  question: z.string().nullable(),
  finding: z.string().nullable(),
  asked: z.string(),
  answer: z.string(),
  /** Said before and now denied; it goes on counting as it was said. */
  takenBackTo: z.string().nullable(),
  options: z.array(optionSchema).readonly(),
  number: numberSchema.nullable(),
});
export type Answered = Readonly<z.infer<typeof answeredSchema>>;

/** One question of the script, with where it stands in this call. */
const outlineLineSchema = z.strictObject({
  id: z.string(),
  words: z.string(),
  state: z.enum(['done', 'now', 'next', 'skipped']),
  /** Set where it is not asked in this call as it stands. */
  skippedBecause: z
    .enum(['known', 'not-this-day', 'not-pointed-to', 'covered', 'everyday-only', 'urgent'])
    .nullable(),
});
export type OutlineLine = Readonly<z.infer<typeof outlineLineSchema>>;

const dangerSchema = z.strictObject({ finding: z.string(), is: z.string(), value: value.nullable() });

const reasonSchema = z.strictObject({ text: z.string(), source: z.string(), to: outcomeSchema });

const aftercareSchema = z.strictObject({
  kind: z.string(),
  say: z.string(),
  days: z.string(),
  source: z.string(),
  asked: z.boolean(),
});

const handoverSchema = z.strictObject({
  situation: z.string(),
  background: z.string(),
  assessment: z.string(),
  recommendation: z.string(),
});

const resultSchema = z.strictObject({
  outcome: outcomeSchema,
  act: z.enum(['ring-emergency', 'emergency-department', 'on-call-now', 'review', 'advice']),
  /** The possible complication that led. */
  about: z.string().nullable(),
  clinicianNeeds: z.string().nullable(),
  reasons: z.array(reasonSchema).readonly(),
  /** Null until the questions have ended. */
  concerns: z
    .array(z.strictObject({ title: z.string(), points: z.number() }))
    .readonly()
    .nullable(),
  tell: texts,
  untilSeen: texts,
  seenAt: z.strictObject({ ...contactSchema.shape, address: z.string() }).nullable(),
  aftercare: z.array(aftercareSchema).readonly(),
  normal: texts,
  /** Times at which a visit can be offered; empty unless one is to be arranged. */
  slots: z.array(momentSchema).readonly(),
  safetyNet: z.string(),
  handover: handoverSchema,
  /** Whom to ring now, in this order; empty unless it is urgent. */
  ringNow: z.array(contactSchema).readonly(),
});
export type ResultShape = Readonly<z.infer<typeof resultSchema>>;

export const callViewSchema = z.strictObject({
  id: z.string(),
  at: z.enum(['asking', 'outcome', 'closed']),
  started: momentSchema,
  seq: z.number(),
  script: z.strictObject({ title: z.string(), id: z.string(), hash: z.string() }),
  patient: patientSchema.nullable(),
  operation: operationSchema.nullable(),
  /** Two when stated dates disagree: both are scored. */
  times: z.array(z.strictObject({ day: z.number().nullable(), hours: z.number().nullable() })).readonly(),
  /** Null until the danger screen of this call is done. */
  earlierCalls: z
    .array(
      z.strictObject({
        hoursAgo: z.number(),
        outcome: outcomeSchema.shape.outcome,
        about: z.string().nullable(),
      }),
    )
    .readonly()
    .nullable(),
  opening: z.string().nullable(),
  question: questionSchema.nullable(),
  mayGoBack: z.boolean(),
  redFlags: z.array(z.strictObject({ id: z.string(), text: z.string() })).readonly(),
  urgent: z.boolean(),
  stillToAsk: texts,
  outline: z.array(outlineLineSchema).readonly(),
  /** What is usual on this day. */
  normal: texts,
  /** A NEWS2 of what was measured; null while nothing was. */
  news2: z.strictObject({ atLeast: z.number(), missing: texts }).nullable(),
  unknown: texts,
  answered: z.array(answeredSchema).readonly(),
  notes: z.array(z.strictObject({ at: momentSchema, text: z.string() })).readonly(),
  dangers: z.array(dangerSchema).readonly(),
  callBackNumber: z.string().nullable(),
  callBackQuestion: z.string().nullable(),
  result: resultSchema.nullable(),
  told: outcomeSchema.nullable(),
  raised: outcomeSchema.nullable(),
  loweringAsked: outcomeSchema.nullable(),
  lowered: z
    .strictObject({ to: outcomeSchema, clinician: z.string(), spokeToPatient: z.boolean(), at: momentSchema })
    .nullable(),
  /** `confirmed`: by the clinician in person, signed in; until then the escalation stays open. */
  accepted: z.strictObject({ clinician: z.string(), at: momentSchema, confirmed: z.boolean() }).nullable(),
  cutOff: z.boolean(),
  /** What closing still needs, before the caller's understanding is confirmed. */
  closingNeeds: z
    .array(z.enum(['told', 'accepted', 'understood', 'call-back-number', 'lowering-confirmed']))
    .readonly(),
  promises: z.array(promiseSchema).readonly(),
  onCall: z.array(rungSchema).readonly(),
  emergency: publicNumberSchema,
  caution: z.string(),
  reachClinician: z.string(),
});
export type CallView = Readonly<z.infer<typeof callViewSchema>>;

/** What was stored as the answer to a token; the same token gives the same again. */
const replySchema = z.strictObject({
  at: z.enum(['asking', 'outcome', 'closed']),
  question: z.string().nullable(),
  again: z.boolean(),
  outcome: z.string(),
  act: z.string(),
  flow: z.string(),
  seq: z.number(),
});

export const turnAnswerSchema = z.strictObject({
  reply: replySchema,
  repeated: z.boolean(),
  view: callViewSchema,
});
export type TurnAnswer = Readonly<z.infer<typeof turnAnswerSchema>>;
