/**
 * Property 4: not knowing never ends lower than the reassuring answer; after a red-flag question never in advice but at
 * least in a same-day review; and for every immediate danger and the findings that the law names in urgent escalation.
 */
import { UNSURE, type FindingId, type FindingSpec } from '../clinical/finding.ts';
import { SAME_DAY, WITHIN_THE_HOUR, rank, type Outcome } from '../clinical/outcome.ts';
import { findingsIn } from '../clinical/condition.ts';
import type { Flow } from '../flow/compiled.ts';
import { isUnsureUrgent } from '../flow/law.ts';
import { compareValues } from './compare-values.ts';
import { classNumber, emptyAssignment } from './domain.ts';
import { outcomeText } from './phrases.ts';
import { dayToShow } from './playable.ts';
import { findout, toProof, type Findout, type Proof } from './report.ts';
import { decided, type Subject } from './subject.ts';
import { rankAlone } from './tables.ts';
import { timeText } from './times.ts';

export function proveNotKnowing(subject: Subject): Proof {
  const found = findout();
  const flagged = redFlagFindings(subject.flow);
  const standIns = standInsOf(subject.flow);
  for (const { spec, number: finding } of subject.findings) {
    compareValues(subject, { finding, better: spec.normal, worse: UNSURE }, found);
    if (isUnsureUrgent(spec)) requireAtLeast(subject, { finding, spec, least: WITHIN_THE_HOUR }, found);
    else if (flagged.has(spec.id)) {
      const standIn = standIns.get(spec.id) ?? null;
      requireReview(subject, { finding, spec, least: SAME_DAY, standIn }, found);
    }
  }
  return toProof(4, found);
}

/** Findings that some red flag of the flow tests for a value other than `unsure`. */
function redFlagFindings(flow: Flow): ReadonlySet<FindingId> {
  const flags = flow.rules.filter(({ effect }) => effect.kind === 'red-flag');
  return new Set(flags.flatMap((rule) => findingsIn(rule.if)));
}

interface Required {
  readonly finding: number;
  readonly spec: FindingSpec;
  readonly least: Outcome;
}

/** A number that nobody can measure goes to its stand-in, and an optional one was not measured. */
function requireReview(
  subject: Subject,
  required: Required & { readonly standIn: FindingId | null },
  found: Findout,
): void {
  const { spec, standIn } = required;
  if (spec.kind === 'number' && standIn !== null) {
    found.listed.push(`${spec.id}: when it cannot be measured, ${standIn} is asked instead`);
  } else if (spec.optional) {
    found.listed.push(`${spec.id}: optional; not knowing it means that it was not measured`);
  } else requireAtLeast(subject, required, found);
}

/** By finding, the one of the first question that is put exactly when this one is not known. */
function standInsOf({ questions }: Flow): ReadonlyMap<FindingId, FindingId> {
  const standIns = new Map<FindingId, FindingId>();
  for (const { kind, when, findings } of questions) {
    const [standIn] = findings;
    if (kind !== 'finding' || when === null || standIn === undefined) continue;
    for (const [test, ...more] of when) {
      const isUnsure = test !== undefined && more.length === 0 && 'in' in test && test.in.includes(UNSURE);
      if (isUnsure && !standIns.has(test.finding)) standIns.set(test.finding, standIn);
    }
  }
  return standIns;
}

/** With nothing else reached; whatever else is answered can only raise. */
function requireAtLeast(subject: Subject, { finding, spec, least }: Required, found: Findout): void {
  const given = emptyAssignment(subject.domain);
  given[finding] = classNumber(subject.domain, finding, UNSURE);
  found.cases += subject.moments.length;
  const failing = subject.moments.filter((moment) => rankAlone(moment, finding, given) < rank(least));
  if (failing.length === 0) return;
  const findings = { [spec.id]: UNSURE };
  const at = dayToShow(subject, failing, { findings, atLeast: () => least });
  const reached = decided(subject, at, findings);
  found.counterexamples.push({
    says: `On ${timeText(at)}, not knowing ${spec.id} comes to ${outcomeText(reached)}; it has to come to ${outcomeText(least)} at least.`,
    at,
    findings,
    atLeast: least,
  });
}
