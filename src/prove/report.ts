/** What a proof says: each property with its verdict, the calls that refute it, and what a signer has to look at. */
import type { Findings } from '../clinical/finding.ts';
import type { Outcome } from '../clinical/outcome.ts';
import type { TimeSince } from '../clinical/window.ts';

export const PROPERTIES = {
  1: 'every way through ends in an outcome, within the limit on questions',
  2: 'a red flag always ends in urgent escalation, and in an emergency where it says so',
  3: 'a worse answer never lowers the outcome and never makes it later',
  4: 'not knowing never ends lower than the reassuring answer, nor in advice after a red-flag question',
  5: 'every question, rule, advice text and threshold can be reached on some day',
  6: 'days 0-365 are covered without a gap, and neighbouring days differ only by the rules listed',
  7: 'no order of telling, skipping and correcting changes the outcome of the same final findings',
  8: 'an outcome below what was told carries the name and the confirmation of a clinician',
  9: "a combined operation, or a surgeon's own rules, never end lower than each procedure alone",
} as const;
export type PropertyId = keyof typeof PROPERTIES;

/** A call that shows that a property does not hold. */
export interface Counterexample {
  /** One sentence for a person: what was answered, on which day, what it came to and what it should come to. */
  readonly says: string;
  readonly at: TimeSince;
  /** What the call establishes; everything else is not reached. */
  readonly findings: Findings;
  /** What the call has to come to at least; null where no outcome is at stake. */
  readonly atLeast: Outcome | null;
}

export interface Proof {
  readonly property: PropertyId;
  /** undecided: the search was given up; it counts as not proved. */
  readonly verdict: 'proved' | 'refuted' | 'undecided';
  /** How many cases were decided one by one. */
  readonly cases: number;
  /** Shortest first. */
  readonly counterexamples: readonly Counterexample[];
  /** What holds and is for the signer to know: reasons, differences between days, what is never asked. */
  readonly listed: readonly string[];
}

export interface FlowReport {
  readonly flow: string;
  readonly hash: string;
  readonly procedures: readonly string[];
  /** Classes of moments that no window tells apart, and the moments in them. */
  readonly classes: number;
  readonly moments: number;
  /** Combinations of answers covered, for each moment. */
  readonly combinations: bigint;
  readonly proofs: readonly Proof[];
}

/** Collects what a property comes to while its cases are gone through. */
export interface Findout {
  readonly counterexamples: Counterexample[];
  readonly listed: string[];
  cases: number;
  isUndecided: boolean;
}

export function findout(): Findout {
  return { counterexamples: [], listed: [], cases: 0, isUndecided: false };
}

export function toProof(property: PropertyId, found: Findout): Proof {
  const refuted = found.counterexamples.length > 0;
  return {
    property,
    verdict: refuted ? 'refuted' : found.isUndecided ? 'undecided' : 'proved',
    cases: found.cases,
    counterexamples: found.counterexamples.toSorted((a, b) => size(a) - size(b)),
    listed: found.listed,
  };
}

function size({ findings }: Counterexample): number {
  return Object.keys(findings).length;
}

export function isProved(report: FlowReport): boolean {
  return report.proofs.every(({ verdict }) => verdict === 'proved');
}
