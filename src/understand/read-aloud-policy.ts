/**
 * Which answers are read back before they count. A worrying answer stands as it was said; a reassuring answer to a
 * red-flag question is read back when it was heard badly, was hedged, or contradicts something in the same words.
 */
import { IMMEDIATE_DANGER, UNSURE, type FindingSpec, type FindingValue } from '../clinical/finding.ts';

/** Below this the recogniser is taken not to have heard (practice rule). */
const SURE_ENOUGH = 0.6;

/** Besides every immediate danger: what settles an urgent escalation by itself (practice rule). */
export const RED_FLAG_QUESTIONS: ReadonlySet<string> = new Set([
  'vision-change',
  'eye-pain-severe',
  'eye-bulging',
  'neck-tight-or-voice-change',
  'nipple-colour',
  'skin-colour',
  'fingers-pale-or-blue',
  'below-dressing-blue-or-numb',
  'one-leg-swollen',
  'calf-pain',
  'belly-rigid-swollen',
  'belly-pain-severe',
  'rigors',
  'temperature',
  'swelling',
  'swelling-tense',
  'swelling-within-hours',
  'skin-blistering-crackling',
  'rash-serious',
  'wound-gap',
  'bladder-painful',
  'numb-tongue-or-ringing-ears',
  'drain-filling-fast',
  'implant-showing',
  'pain-stretching-fingers',
  'oxygen-saturation',
  'heart-rate',
  'respiratory-rate',
  'systolic-pressure',
]);

/** What counts as danger in these words, besides the group that is screened first. */
const ALSO_DANGER: ReadonlySet<string> = new Set([
  'vision-change',
  'eye-bulging',
  'neck-tight-or-voice-change',
]);

export function isDanger({ group, id }: FindingSpec): boolean {
  return group === IMMEDIATE_DANGER || ALSO_DANGER.has(id);
}

export function isRedFlagQuestion({ group, id }: FindingSpec): boolean {
  return group === IMMEDIATE_DANGER || RED_FLAG_QUESTIONS.has(id);
}

/** True for a value that would let a call end calmly; never for `unsure`. */
export function isReassuring(spec: FindingSpec, value: FindingValue): boolean {
  if (value === UNSURE || spec.worse === 'neither') return false;
  if (typeof value !== 'number' || typeof spec.normal !== 'number') return value === spec.normal;
  if (spec.id === 'temperature') return value < FEVER && value >= COLD;
  return spec.worse === 'down' ? value >= spec.normal - 1 : value <= spec.normal;
}

/** From here a temperature is a fever after an operation, and below it a sign of sepsis (NICE NG51: below 36). */
const FEVER = 38;
const COLD = 36;

export interface Heard {
  readonly value: FindingValue;
  readonly hedged: boolean;
  readonly contradicted: boolean;
}

export function needsReadBack(spec: FindingSpec, heard: Heard, confidence: number): boolean {
  if (heard.contradicted && isRedFlagQuestion(spec)) return true;
  if (!isRedFlagQuestion(spec) || !isReassuring(spec, heard.value)) return false;
  return confidence < SURE_ENOUGH || heard.hedged;
}
