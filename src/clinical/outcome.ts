/** The outcomes of a call and their one order, worst last; everything that compares two outcomes uses it. */

export type OutcomeName = 'advise' | 'arrange-review' | 'urgent-escalation';

/** When it must happen. What each means in hours is a practice rule. */
export type Within =
  'now' | '1-hour' | 'same-day' | 'next-day' | 'next-working-day' | 'planned-visit' | 'none';

export interface Outcome {
  readonly outcome: OutcomeName;
  readonly within: Within;
  /** The caller is told to ring the emergency number now; implies `now`. */
  readonly emergency: boolean;
}

/** Every allowed outcome, mildest first. The position is the rank. */
export const LADDER = [
  { outcome: 'advise', within: 'none', emergency: false },
  { outcome: 'arrange-review', within: 'planned-visit', emergency: false },
  { outcome: 'arrange-review', within: 'next-working-day', emergency: false },
  { outcome: 'arrange-review', within: 'next-day', emergency: false },
  { outcome: 'arrange-review', within: 'same-day', emergency: false },
  { outcome: 'urgent-escalation', within: '1-hour', emergency: false },
  { outcome: 'urgent-escalation', within: 'now', emergency: false },
  { outcome: 'urgent-escalation', within: 'now', emergency: true },
] as const satisfies readonly Outcome[];

export const ADVISE: Outcome = LADDER[0];
export const PLANNED_VISIT: Outcome = LADDER[1];
export const NEXT_WORKING_DAY: Outcome = LADDER[2];
export const SAME_DAY: Outcome = LADDER[4];
export const WITHIN_THE_HOUR: Outcome = LADDER[5];
export const EMERGENCY: Outcome = LADDER[7];

/** 0 (advise) to 7 (emergency). Throws on a combination that the contract does not allow. */
export function rank(outcome: Outcome): number {
  const at = LADDER.findIndex(
    (rung) =>
      rung === outcome ||
      (rung.within === outcome.within &&
        rung.emergency === outcome.emergency &&
        rung.outcome === outcome.outcome),
  );
  if (at < 0) throw new Error(`No such outcome: ${outcome.outcome}, ${outcome.within}`);
  return at;
}

export function isAllowedOutcome(outcome: Outcome): boolean {
  return LADDER.some(
    (rung) =>
      rung.outcome === outcome.outcome &&
      rung.within === outcome.within &&
      rung.emergency === outcome.emergency,
  );
}

/** Whether it must be handed to a clinician now or within the hour. */
export function isUrgent(outcome: Outcome): boolean {
  return outcome.outcome === 'urgent-escalation';
}

export function worse(a: Outcome, b: Outcome): Outcome {
  return rank(b) > rank(a) ? b : a;
}

/** The rung `steps` sooner, but never past urgent within the hour by stepping alone. */
export function stepSooner(outcome: Outcome, steps: number): Outcome {
  const from = rank(outcome);
  const to = Math.max(from, Math.min(from + steps, rank(WITHIN_THE_HOUR)));
  return LADDER[to] ?? outcome;
}

/** Mildest first. */
export const OUTCOME_ORDER = [
  'advise',
  'arrange-review',
  'urgent-escalation',
] as const satisfies readonly OutcomeName[];
