/**
 * Property 2: a red flag always ends in urgent escalation, and in an emergency where it says so; an immediate danger is an
 * emergency on every day, thoughts of self-harm are urgent now.
 *
 * A rule counts for itself whatever else is answered, and circumstances only raise (see told.ts), so it is enough that
 * each red flag comes to what it says at each moment inside its days, and outside to a same-day review or to nothing for
 * a stated reason.
 */
import { IMMEDIATE_DANGER, type Findings } from '../clinical/finding.ts';
import { EMERGENCY, LADDER, SAME_DAY, WITHIN_THE_HOUR, rank, type Outcome } from '../clinical/outcome.ts';
import { holdsAt } from '../clinical/window.ts';
import { ruleEffectAt } from '../call/score.ts';
import type { Rule } from '../flow/compiled.ts';
import { classNumber, emptyAssignment, findingsOf } from './domain.ts';
import { outcomeOfRank, outcomeText } from './phrases.ts';
import { dayToShow } from './playable.ts';
import { findout, toProof, type Findout, type Proof } from './report.ts';
import { decided, type Subject } from './subject.ts';
import { rankAlone, rankOf, type Moment } from './tables.ts';
import { waysToFulfil } from './side.ts';
import { timeText } from './times.ts';

const URGENT_NOW: Outcome = LADDER[6];
/** Taken seriously at once, without sending an ambulance before anything is known of plan and means. */
const URGENT_BUT_NO_EMERGENCY: readonly string[] = ['self-harm-thoughts'];

export function proveRedFlags(subject: Subject): Proof {
  const found = findout();
  for (const rule of subject.flow.rules) {
    if (rule.effect.kind !== 'red-flag') continue;
    checkFlag(subject, rule, found);
  }
  for (const { spec } of subject.findings) {
    if (spec.group !== IMMEDIATE_DANGER) continue;
    const least = URGENT_BUT_NO_EMERGENCY.includes(spec.id) ? URGENT_NOW : EMERGENCY;
    checkDanger(subject, { id: spec.id, least }, found);
  }
  return toProof(2, found);
}

/** One call at most is shown for each rule. Where another rule makes up for a flag that fails, nothing is lost. */
function checkFlag(subject: Subject, rule: Rule, found: Findout): void {
  found.cases += subject.moments.length;
  const failing = subject.moments.filter(
    (moment) => flagComesTo(rule, moment) < flagHasToComeTo(rule, moment),
  );
  for (const moment of failing) {
    const findings = mildest(subject, rule, moment);
    const least = flagHasToComeTo(rule, moment);
    if (findings === null || rank(decided(subject, moment.at, findings)) >= least) continue;
    const atLeast = outcomeOfRank(least);
    const at = dayToShow(subject, [moment], { findings, atLeast: () => atLeast });
    found.counterexamples.push({
      says: `On ${timeText(at)}, the red flag ${rule.id} comes to ${outcomeText(decided(subject, at, findings))}; it has to come to ${outcomeText(atLeast)} at least.`,
      at,
      findings,
      atLeast,
    });
    return;
  }
}

function flagComesTo(rule: Rule, moment: Moment): number {
  const effect = ruleEffectAt(rule, moment.at);
  return effect === null ? 0 : rank(effect.to);
}

function flagHasToComeTo(rule: Rule, moment: Moment): number {
  if (rule.effect.kind !== 'red-flag') return 0;
  if (holdsAt(rule.window, moment.at)) return Math.max(rank(rule.effect.to), rank(WITHIN_THE_HOUR));
  const reason = rule.effect.harmlessOutside;
  return reason !== null && reason.trim() !== '' ? 0 : rank(SAME_DAY);
}

/** Of all ways to raise the flag with nothing else reached, the one that comes to the least. */
function mildest(subject: Subject, rule: Rule, moment: Moment): Findings | null {
  const rows = subject.tables.rules.find((one) => one.rule === rule)?.rows ?? [];
  let best: { findings: Findings; rank: number } | null = null;
  for (const row of rows) {
    for (const given of waysToFulfil({ moment, held: null }, row)) {
      const comesTo = rankOf(moment, given);
      if (best === null || comesTo < best.rank) {
        best = { findings: findingsOf(subject.domain, given), rank: comesTo };
      }
    }
  }
  return best?.findings ?? null;
}

interface Danger {
  readonly id: string;
  readonly least: Outcome;
}

function checkDanger(subject: Subject, { id, least }: Danger, found: Findout): void {
  const finding = subject.domain.indexOf.get(id);
  if (finding === undefined) return;
  const given = emptyAssignment(subject.domain);
  given[finding] = classNumber(subject.domain, finding, 'yes');
  found.cases += subject.moments.length;
  const failing = subject.moments.filter((moment) => rankAlone(moment, finding, given) < rank(least));
  if (failing.length === 0) return;
  const findings = { [id]: 'yes' };
  const at = dayToShow(subject, failing, { findings, atLeast: () => least });
  const reached = decided(subject, at, findings);
  found.counterexamples.push({
    says: `On ${timeText(at)}, the immediate danger ${id} comes to ${outcomeText(reached)}; it has to come to ${outcomeText(least)}.`,
    at,
    findings,
    atLeast: least,
  });
}
