/** The shape of flow files. What the shapes mean together is checked in `flow/checks`. */
import { z } from 'zod';
import { AFTERCARE_KINDS, FACTS, REASONS, TIERS } from './compiled.ts';
import { conditionSchema } from './condition-schema.ts';
import { daysSchema, hoursSchema } from './window-text.ts';
import { HANDOVER_WORDS, missingPlaces } from './handover-words.ts';

const text = z.string().trim().min(1);
const id = z.string().regex(/^[a-z0-9][a-z0-9-]*$/, 'an id of small letters, digits and hyphens');
const value = z.union([z.string(), z.number()]);

const within = z.enum(['same-day', 'next-day', 'next-working-day', 'planned-visit']);
const seenAt = z.enum(['own-theatre', 'emergency-department', 'eye-casualty', 'hand-unit']);

/** One entry of the vocabulary; a key outside this list is refused. */
const findingSchema = z.strictObject({
  kind: z.enum(['yes-no', 'choice', 'number']),
  is: z.exactOptional(text),
  values: z.exactOptional(z.array(id).min(2)),
  unit: z.exactOptional(text),
  min: z.exactOptional(z.number()),
  max: z.exactOptional(z.number()),
  step: z.exactOptional(z.number().positive()),
  normal: z.exactOptional(value),
  worse: z.exactOptional(z.enum(['up', 'down', 'away', 'yes', 'no', 'neither'])),
  order: z.exactOptional(z.array(z.array(id).min(2)).min(1)),
  optional: z.exactOptional(z.boolean()),
  only: z.exactOptional(z.array(id).min(1)),
  when: z.exactOptional(z.string().regex(/^[a-z0-9-]+!?=[a-z0-9-]+$/, 'finding=value or finding!=value')),
});
export type FindingFile = z.infer<typeof findingSchema>;

/** `flows/findings.yaml`: groups of findings, and the list of procedures. */
export const vocabularySchema = z
  .object({ procedures: z.array(id).min(1) })
  .catchall(z.record(id, findingSchema));
export type VocabularyFile = z.infer<typeof vocabularySchema>;

export const questionSchema = z.strictObject({
  id,
  finding: z.exactOptional(id),
  findings: z.exactOptional(z.array(id).min(2).max(3)),
  fact: z.exactOptional(z.enum(FACTS)),
  ask: z.enum(TIERS),
  days: z.exactOptional(daysSchema),
  hours: z.exactOptional(hoursSchema),
  when: z.exactOptional(conditionSchema),
  'skip-if': z.exactOptional(conditionSchema),
  words: text,
  spoken: text,
  why: text,
  unsure: text,
  answers: z.exactOptional(z.record(z.string(), text)),
});
export type QuestionFile = z.infer<typeof questionSchema>;

export const ruleSchema = z.strictObject({
  id,
  if: conditionSchema,
  days: z.exactOptional(daysSchema),
  hours: z.exactOptional(hoursSchema),
  points: z.exactOptional(z.record(id, z.number().int().min(1).max(9))),
  'red-flag': z.exactOptional(
    z.strictObject({
      concern: id,
      within: z.enum(['emergency', 'now', '1-hour']),
      'seen-at': z.exactOptional(seenAt),
      'until-seen': z.array(text).min(1).max(3),
      'harmless-outside': z.exactOptional(text),
    }),
  ),
  'at-least': z.exactOptional(z.strictObject({ concern: z.exactOptional(id), within })),
  because: text,
  source: text,
});
export type RuleFile = z.infer<typeof ruleSchema>;

const dayText = z.strictObject({ days: daysSchema, say: text });
const caseSchema = z.strictObject({
  title: text,
  procedure: z.exactOptional(id),
  day: z.number().int().min(0).max(365),
  hours: z.exactOptional(z.number().int().min(0).max(72)),
  findings: z.record(id, value),
  outcome: z.enum(['advise', 'arrange-review', 'urgent-escalation']),
  within: z.exactOptional(
    z.enum(['now', '1-hour', 'same-day', 'next-day', 'next-working-day', 'planned-visit', 'none']),
  ),
  emergency: z.exactOptional(z.boolean()),
  source: text,
});
export type CaseFile = z.infer<typeof caseSchema>;

/** `flows/topics/*.yaml`: questions and scoring for one complaint. */
export const topicSchema = z.strictObject({
  topic: id,
  title: text,
  questions: z.array(questionSchema),
  rules: z.array(ruleSchema),
  'safety-net': z.array(dayText),
  cases: z.exactOptional(z.array(caseSchema)),
});
export type TopicFile = z.infer<typeof topicSchema>;

/** A change that one procedure makes to a shared question or rule. Points and days only. */
const changeSchema = z.strictObject({
  question: z.exactOptional(id),
  rule: z.exactOptional(id),
  days: z.exactOptional(daysSchema),
  ask: z.exactOptional(z.enum(TIERS)),
  points: z.exactOptional(z.record(id, z.number().int().min(1).max(9))),
  because: text,
});
export type ChangeFile = z.infer<typeof changeSchema>;

const aftercareSchema = z.partialRecord(
  z.enum(AFTERCARE_KINDS),
  z
    .array(z.strictObject({ days: daysSchema, hours: z.exactOptional(hoursSchema), say: text, source: text }))
    .min(1),
);

/** `flows/procedures/*.yaml`: topics and their days, own questions and rules, aftercare by day. */
export const procedureSchema = z.strictObject({
  procedure: id,
  title: text,
  /** Names that callers use for it. */
  called: z.array(text),
  topics: z.record(id, daysSchema),
  /** Days on which the plan keeps a dressing or tape on. */
  covered: z.exactOptional(daysSchema),
  /** The general flow never ends in advice. */
  'never-advise': z.exactOptional(z.literal(true)),
  changes: z.exactOptional(z.array(changeSchema)),
  questions: z.array(questionSchema),
  rules: z.array(ruleSchema),
  'safety-net': z.array(dayText),
  normal: z.array(dayText),
  aftercare: aftercareSchema,
  cases: z.exactOptional(z.array(caseSchema)),
});
export type ProcedureFile = z.infer<typeof procedureSchema>;

const thresholdSchema = z.strictObject({
  points: z.number().int().min(1),
  review: z.exactOptional(within),
  urgent: z.exactOptional(z.enum(['emergency', 'now', '1-hour'])),
  when: z.exactOptional(conditionSchema),
});

/**
 * `flows/surgeons/*.yaml`: one surgeon's own rules. Thresholds and rules are added to the shared ones, so they can only
 * make a call more careful; an aftercare plan replaces the shared one of its kind.
 */
export const surgeonSchema = z.strictObject({
  surgeon: id,
  /** The names under which operations record this surgeon. */
  called: z.array(text).min(1),
  thresholds: z.exactOptional(z.record(id, z.array(thresholdSchema).min(1))),
  rules: z.exactOptional(z.array(ruleSchema)),
  aftercare: z.exactOptional(z.record(id, aftercareSchema)),
});
export type SurgeonFile = z.infer<typeof surgeonSchema>;

/** `flows/concerns.yaml`: what each concern's points come to. */
export const concernsSchema = z.strictObject({
  concerns: z.record(
    id,
    z.strictObject({
      title: text,
      'clinician-needs': text,
      thresholds: z.array(thresholdSchema).min(1),
      because: text,
      source: text,
    }),
  ),
  /** Findings that may give points to more than one concern. */
  shared: z.array(id),
  /** When an infection is suspected: what turns NEWS2 of 5 or 6 from urgent into an emergency. */
  'infection-suspected': conditionSchema,
});
export type ConcernsFile = z.infer<typeof concernsSchema>;

/** `flows/words/en.yaml`: words that are the same on every call. */
export const wordsSchema = z.strictObject({
  greeting: text,
  emergency: text,
  caution: text,
  'reach-clinician': text,
  'safety-net': z.strictObject({ start: text, end: text }),
  outcome: z.strictObject({
    advise: text,
    'same-day': text,
    'next-day': text,
    'next-working-day': text,
    'planned-visit': text,
    urgent: text,
    emergency: text,
    'cut-off': text,
  }),
  reasons: z.record(z.enum(REASONS), text),
  /** The written handover; what it has to name stands in braces. */
  handover: z.record(z.enum(HANDOVER_WORDS), text).superRefine((words, context) => {
    for (const id of HANDOVER_WORDS) {
      const missing = missingPlaces(id, words[id]);
      if (missing.length === 0) continue;
      const message = `a text that holds ${missing.map((place) => `{${place}}`).join(' and ')}`;
      context.addIssue({ code: 'custom', path: [id], message });
    }
  }),
  answers: z.strictObject({ yes: text, no: text, unsure: text }),
  /** How several questions are put as one: by finding, the few words that it is mentioned with. */
  together: z.exactOptional(
    z.strictObject({
      start: text,
      why: text,
      unsure: text,
      answers: z.strictObject({ yes: text, no: text, unsure: text }),
      mentions: z.record(id, text),
    }),
  ),
  /** Words of the rules that hold on every flow; `{finding}` stands for what exactly is meant. */
  law: z.strictObject({
    'unsure-urgent': text,
    'unsure-same-day': text,
    'still-covered': text,
    'until-seen': z.array(text).min(1).max(3),
    source: text,
  }),
  news2: z.strictObject({
    title: text,
    'clinician-needs': text,
    because: text,
    'single-three': text,
    'until-seen': z.array(text).min(1).max(3),
    source: text,
  }),
});
export type WordsFile = z.infer<typeof wordsSchema>;
