/**
 * Whether a next dose of paracetamol or ibuprofen is due, for the nurse's eyes only: the line tells nobody that a dose
 * may be taken. Anything unknown refuses with its reason. Source of the limits: NHS and BNF adult limits (UK).
 */
import { addHours } from '../basics/civil-time.ts';
import type { Millis } from '../basics/clock.ts';
import { doseTotal, isInWindow, takenWithin, type Dose, type DoseRule } from './dose-limits.ts';

export interface DoseQuestion {
  /** Every dose told of, from at least the last 24 hours; null when what was taken is not known. */
  readonly taken: readonly Dose[] | null;
  readonly wantedMg: number;
  /** When it would be taken, UTC milliseconds. */
  readonly at: Millis;
  readonly weightUnder50kg: boolean | null;
  /** Every product taken is known, hidden sources (cold remedies, combined painkillers) asked about. */
  readonly areProductsKnown: boolean;
  /**
   * Any reason to ask a clinician first. Paracetamol: liver disease, much alcohol. Ibuprofen: told to avoid it,
   * stomach ulcer or bleed, kidney or heart failure, asthma with aspirin, blood thinner, pregnancy, dehydration,
   * over 75, another anti-inflammatory. (From memory.) Null when not all were asked.
   */
  readonly hasCaution: boolean | null;
}

export type RefusalReason =
  | 'under-50-kg'
  | 'weight-unknown'
  | 'products-unknown'
  | 'doses-unknown'
  | 'time-unknown'
  | 'extra-taken'
  | 'caution'
  | 'caution-unknown'
  | 'dose-too-large';

export type DoseAnswer =
  /** More than the limit was taken: urgent medical and poisons advice even if well. */
  | { readonly kind: 'over-limit'; readonly atLeastMg: number }
  /** No amount and no time is given; a clinician or pharmacist decides. */
  | { readonly kind: 'ask-clinician'; readonly reasons: readonly RefusalReason[] }
  /** Too soon after the last dose (`gap`), or the most of 24 hours is reached (`limit`). */
  | { readonly kind: 'not-yet'; readonly because: 'gap' | 'limit'; readonly nextAt: Millis }
  | { readonly kind: 'permitted'; readonly totalMg: number };

/** Over the limit comes first, then what refuses, then the clock. */
export function nextDose(rule: DoseRule, question: DoseQuestion): DoseAnswer {
  const { taken, wantedMg, at } = question;
  if (taken !== null) {
    const total = doseTotal(rule, taken, at);
    if (total.overLimit) return { kind: 'over-limit', atLeastMg: total.atLeastMg };
  }
  const reasons = refusals(rule, question);
  if (taken === null || reasons.length > 0) return { kind: 'ask-clinician', reasons };
  const plan: Plan = { rule, taken, wantedMg };
  const because = obstacle(plan, at);
  if (because !== null) return { kind: 'not-yet', because, nextAt: nextTime(plan, at) };
  return { kind: 'permitted', totalMg: takenWithin(taken, at, 24) + wantedMg };
}

function refusals(rule: DoseRule, question: DoseQuestion): readonly RefusalReason[] {
  const { taken, at, weightUnder50kg, hasCaution, areProductsKnown, wantedMg } = question;
  const reasons: RefusalReason[] = [];
  if (weightUnder50kg === true) reasons.push('under-50-kg');
  if (weightUnder50kg === null) reasons.push('weight-unknown');
  if (!areProductsKnown || taken?.some((dose) => dose.mg === null) === true) reasons.push('products-unknown');
  if (taken === null) reasons.push('doses-unknown');
  if (taken?.some((dose) => dose.at === null || dose.at > at) === true) reasons.push('time-unknown');
  if (taken !== null && wasExtraTaken(rule, taken)) reasons.push('extra-taken');
  if (hasCaution === true) reasons.push('caution');
  if (hasCaution === null) reasons.push('caution-unknown');
  if (!(wantedMg > 0 && wantedMg <= rule.maxDoseMg)) reasons.push('dose-too-large');
  return reasons;
}

// A double dose, or doses closer than allowed, is below the line of an overdose but no ground for the next one.
function wasExtraTaken(rule: DoseRule, taken: readonly Dose[]): boolean {
  return taken.some(({ at }) => at !== null && takenWithin(taken, at, rule.gapHours) > rule.maxDoseMg);
}

interface Plan {
  readonly rule: DoseRule;
  readonly taken: readonly Dose[];
  readonly wantedMg: number;
}

function obstacle({ rule, taken, wantedMg }: Plan, at: Millis): 'gap' | 'limit' | null {
  const inDay = taken.filter((dose) => isInWindow(dose, at, 24));
  const occasions = new Set(inDay.map((dose) => dose.at)).size;
  const isFull = occasions >= rule.maxDoses || takenWithin(taken, at, 24) + wantedMg > rule.limitMg;
  if (isFull) return 'limit';
  return taken.some((dose) => isInWindow(dose, at, rule.gapHours)) ? 'gap' : null;
}

// Something changes only when a dose becomes old enough for the gap or leaves the 24 hours.
function nextTime(plan: Plan, at: Millis): Millis {
  const changes = plan.taken.flatMap((dose) =>
    dose.at === null ? [] : [addHours(dose.at, plan.rule.gapHours), addHours(dose.at, 24)],
  );
  const free = changes
    .filter((time) => time >= at && obstacle(plan, time) === null)
    .reduce((first, time) => Math.min(first, time), Infinity);
  if (!Number.isFinite(free)) throw new Error('A dose within the limit never becomes due');
  return free;
}
