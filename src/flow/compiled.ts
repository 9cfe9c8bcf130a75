/** The compiled flow: frozen plain JSON that the call machine runs and the prover reasons about. */
import type { HandoverWords } from './handover-words.ts';
import type { FlowHash } from '../basics/ids.ts';
import type { Condition, FindingId, FindingSpec, FindingValue, ProcedureId } from '../clinical/finding.ts';
import type { Outcome } from '../clinical/outcome.ts';
import type { Window } from '../clinical/window.ts';

/** In the order in which a call asks them. */
export const TIERS = ['screen', 'caller', 'opening', 'pointed', 'likely', 'day-danger', 'handover'] as const;
export type Tier = (typeof TIERS)[number];

/** Something asked that is written down but never scored. */
export const FACTS = [
  'call-back-number',
  'identity',
  'opening',
  'where-now',
  'who-with-you',
  'can-ring-yourself',
  'last-food-drink',
  'can-travel',
  'allergies',
] as const;
export type FactId = (typeof FACTS)[number];

export interface AnswerOption {
  readonly value: FindingValue;
  /** What the nurse sees and reads. */
  readonly label: string;
}

export interface Question {
  readonly id: string;
  readonly topic: string;
  readonly tier: Tier;
  /** finding: settles one; group: "no" settles all, else they open one by one; fact: written down only. */
  readonly kind: 'finding' | 'group' | 'fact';
  readonly findings: readonly FindingId[];
  readonly fact: FactId | null;
  /** What the nurse reads out. */
  readonly words: string;
  /** Shorter words for a spoken line. */
  readonly spoken: string;
  readonly why: string;
  /** What "I don't know" means here. */
  readonly unsureMeans: string;
  readonly answers: readonly AnswerOption[];
  readonly window: Window;
  /** Asked only if this holds; null is always. It decides what is asked, never what counts. */
  readonly when: Condition | null;
  /** Not asked if this holds (a covered wound hides its colour). */
  readonly skipIf: Condition | null;
  /** The questions that it stands for: "no" settles them all, anything else leaves each to be put by itself. */
  readonly opens?: readonly string[];
}

export type Effect =
  | { readonly kind: 'points'; readonly concern: string; readonly points: number }
  | {
      readonly kind: 'red-flag';
      readonly concern: string;
      readonly to: Outcome;
      readonly seenAt: string | null;
      readonly untilSeen: readonly string[];
      /** Why it may count nothing outside its window; null: outside it still gives a same-day review. */
      readonly harmlessOutside: string | null;
    }
  | { readonly kind: 'at-least'; readonly concern: string | null; readonly to: Outcome };

export interface Rule {
  readonly id: string;
  readonly topic: string;
  readonly if: Condition;
  readonly window: Window;
  readonly effect: Effect;
  readonly because: string;
  readonly source: string;
}

export interface Threshold {
  readonly points: number;
  readonly to: Outcome;
  /** Counts only if this holds as well; null is always. */
  readonly when: Condition | null;
}

export interface Concern {
  readonly id: string;
  readonly title: string;
  /** What the clinician who takes over needs to know. */
  readonly clinicianNeeds: string;
  readonly thresholds: readonly Threshold[];
  readonly because: string;
  readonly source: string;
}

export const AFTERCARE_KINDS = [
  'dressing',
  'washing',
  'support-garment',
  'driving',
  'work',
  'exercise',
  'flying',
  'sleeping-position',
  'scar-care',
  'visits',
  'medicines',
] as const;
export type AftercareKind = (typeof AFTERCARE_KINDS)[number];

export interface Aftercare {
  readonly kind: AftercareKind;
  readonly procedure: string;
  readonly window: Window;
  readonly say: string;
  readonly source: string;
}

/** A sign to watch for, with its clock, or what is usual on those days. */
export interface DayText {
  readonly topic: string;
  readonly window: Window;
  readonly say: string;
}

/** Words that are the same on every call. */
export interface CommonWords {
  readonly greeting: string;
  readonly emergency: string;
  readonly caution: string;
  readonly reachClinician: string;
  /** What to do until seen when no single red flag says its own. */
  readonly untilSeen: readonly string[];
  readonly safetyNetStart: string;
  readonly safetyNetEnd: string;
  readonly outcome: {
    readonly advise: string;
    readonly review: Readonly<Record<'same-day' | 'next-day' | 'next-working-day' | 'planned-visit', string>>;
    readonly urgent: string;
    readonly emergency: string;
    readonly cutOff: string;
  };
  readonly reasons: Readonly<Record<ReasonId, string>>;
  readonly handover: HandoverWords;
}

/** Reasons that come from circumstances rather than from a rule of the flow. */
export const REASONS = [
  'second-contact',
  'second-contact-same-problem',
  'third-contact',
  'cut-off-worrying',
  'cut-off-screen-unfinished',
  'cut-off-screen-finished',
  'too-much-unknown',
  'clinic-closed',
  'told-already',
  'nurse-raised',
  'script-gone',
  'line-raised',
  'general-flow',
  'taken-back',
  'clinician-lowered',
] as const;
export type ReasonId = (typeof REASONS)[number];

/** Rises when a flow comes to hold what older ones lack. */
export const FLOW_FORMAT = 2;

export interface Flow {
  readonly format: typeof FLOW_FORMAT;
  /** `breast-lift`, `breast-lift+tummy-tuck`, or `general`. */
  readonly id: string;
  readonly title: string;
  readonly procedures: readonly ProcedureId[];
  /** The surgeon whose own rules are in it, by name; null where none has any. */
  readonly surgeon: string | null;
  /** The least outcome whatever is answered; null where a flow may end in advice. */
  readonly floor: Outcome | null;
  readonly findings: Readonly<Record<FindingId, FindingSpec>>;
  readonly questions: readonly Question[];
  readonly rules: readonly Rule[];
  readonly concerns: readonly Concern[];
  readonly aftercare: readonly Aftercare[];
  readonly safetyNet: readonly DayText[];
  readonly normal: readonly DayText[];
  readonly words: CommonWords;
}

export interface CompiledFlow {
  readonly flow: Flow;
  /** SHA-256 over the canonical JSON of the flow. */
  readonly hash: FlowHash;
}
