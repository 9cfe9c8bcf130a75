/**
 * The limits of paracetamol and ibuprofen for adults, and the totals of what was taken against them.
 * Source: NHS and BNF adult limits (UK). Totals only warn; whether a next dose is due is `next-dose.ts`.
 */
import { addHours } from '../basics/civil-time.ts';
import type { Millis } from '../basics/clock.ts';

export interface DoseRule {
  readonly maxDoseMg: number;
  /** In any rolling 24 hours. */
  readonly limitMg: number;
  readonly maxDoses: number;
  readonly gapHours: number;
  /** More than this between two dose times is an overdose although the day's total is not reached; null is no such line. */
  readonly mostWithinGapMg: number | null;
}

/** 500 mg-1 g, 4 hours apart, 4 doses and 4 g in 24 h. More than 2 extra tablets of 500 mg: urgent (NHS leaflet). */
export const PARACETAMOL_UK: DoseRule = {
  maxDoseMg: 1000,
  limitMg: 4000,
  maxDoses: 4,
  gapHours: 4,
  mostWithinGapMg: 2000,
};

/** 200-400 mg three times a day, 6 hours apart; the 1,200 mg is from memory and equals 3 x 400 mg. */
export const IBUPROFEN_UK: DoseRule = {
  maxDoseMg: 400,
  limitMg: 1200,
  maxDoses: 3,
  gapHours: 6,
  mostWithinGapMg: null,
};

/** What a doctor may prescribe: up to 600 mg four times a day, 4 hours apart. Only with that prescription. */
export const IBUPROFEN_PRESCRIBED: DoseRule = {
  maxDoseMg: 600,
  limitMg: 2400,
  maxDoses: 4,
  gapHours: 4,
  mostWithinGapMg: null,
};

/** Milligrams of paracetamol in one tablet, capsule or sachet. Strengths from memory; a cold powder at its strongest. */
export const PARACETAMOL_PER_UNIT_MG = {
  'paracetamol-500': 500,
  'co-codamol-8-500': 500,
  'co-codamol-15-500': 500,
  'co-codamol-30-500': 500,
  'co-dydramol-10-500': 500,
  'tramadol-paracetamol-37.5-325': 325,
  'cold-remedy-powder': 1000,
} as const satisfies Readonly<Record<string, number>>;

/** One taking of the medicine, in any product. */
export interface Dose {
  /** UTC milliseconds; null when the time is not known: it then counts as inside every window. */
  readonly at: Millis | null;
  /** Milligrams of the medicine itself; null when product or strength is not known: it then adds nothing. */
  readonly mg: number | null;
}

export interface DoseTotal {
  /** Taken in the 24 hours that end at `until`; a floor when a strength is not known. */
  readonly atLeastMg: number;
  /** Every time and strength is known. */
  readonly isKnown: boolean;
  /** Over a limit in any 24 hours of what was told: urgent even if well, never lowered by what is unknown. */
  readonly overLimit: boolean;
}

/** Paracetamol from every source against the UK adult limit; hidden sources have to be among the doses. */
export function paracetamolTotal(doses: readonly Dose[], until: Millis): DoseTotal {
  return doseTotal(PARACETAMOL_UK, doses, until);
}

/** The total of a medicine in the 24 hours that end at `until`, and whether its limit was passed at any time. */
export function doseTotal(rule: DoseRule, doses: readonly Dose[], until: Millis): DoseTotal {
  const ends = [until, ...doses.flatMap((dose) => (dose.at === null ? [] : [dose.at]))];
  return {
    atLeastMg: takenWithin(doses, until, 24),
    isKnown: doses.every((dose) => dose.mg !== null && dose.at !== null && dose.at <= until),
    overLimit: ends.some((end) => isOver(rule, doses, end)),
  };
}

/**
 * Milligrams in the hours that end at `end`. A dose exactly that many hours old has left the window; one whose time
 * is not known is in it.
 */
export function takenWithin(doses: readonly Dose[], end: Millis, hours: number): number {
  return doses.filter((dose) => isInWindow(dose, end, hours)).reduce((sum, dose) => sum + (dose.mg ?? 0), 0);
}

export function isInWindow(dose: Dose, end: Millis, hours: number): boolean {
  return dose.at === null || (dose.at > addHours(end, -hours) && dose.at <= end);
}

function isOver(rule: DoseRule, doses: readonly Dose[], end: Millis): boolean {
  return takenWithin(doses, end, 24) > rule.limitMg || isTooMuchAtOnce(rule, doses, end);
}

function isTooMuchAtOnce(
  { mostWithinGapMg: most, gapHours }: DoseRule,
  doses: readonly Dose[],
  end: Millis,
): boolean {
  if (most === null) return false;
  // Doses without a time cannot be said to lie close together; one that is too large by itself needs no time.
  const timed = doses.filter((dose) => dose.at !== null);
  return takenWithin(timed, end, gapHours) > most || doses.some((dose) => dose.mg !== null && dose.mg > most);
}
