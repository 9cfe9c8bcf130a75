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
import { outcomeOfRank, outcomeText, rankText } from './phrases.ts';
import { findout, toProof, type Findout, type Proof } from './report.ts';
import { confirm, decided, type Subject } from './subject.ts';
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
  for (const { spec } of subject.domain.findings) {
    if (spec.group !== IMMEDIATE_DANGER) continue;
    const least = URGENT_BUT_NO_EMERGENCY.includes(spec.id) ? URGENT_NOW : EMERGENCY;
    checkDanger(subject, { id: spec.id, least }, found);
  }
  return toProof(2, found);
}

/** One call at most is shown for each rule. Where another rule makes up for a flag that fails, nothing is lost. */
function checkFlag(subject: Subject, rule: Rule, found: Findout): void {
  for (const moment of subject.moments) {
    found.cases += 1;
    const least = flagHasToComeTo(rule, moment);
    if (flagComesTo(rule, moment) >= least) continue;
    const findings = mildest(subject, rule, moment);
    const outcome = findings === null ? null : decided(subject, moment.at, findings);
    if (findings === null || outcome === null || rank(outcome) >= least) continue;
    found.counterexamples.push({
      says: `On ${timeText(moment.at)}, the red flag ${rule.id} comes to ${outcomeText(outcome)}; it has to come to ${rankText(least)} at least.`,
      at: moment.at,
      findings,
      atLeast: outcomeOfRank(least),
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
  for (const moment of subject.moments) {
    found.cases += 1;
    const comesTo = rankAlone(moment, finding, given);
    if (comesTo >= rank(least)) continue;
    confirm(decided(subject, moment.at, { [id]: 'yes' }), comesTo);
    found.counterexamples.push({
      says: `On ${timeText(moment.at)}, the immediate danger ${id} comes to ${rankText(comesTo)}; it has to come to ${outcomeText(least)}.`,
      at: moment.at,
      findings: { [id]: 'yes' },
      atLeast: least,
    });
    return;
  }
}
