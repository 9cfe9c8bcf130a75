/** What the findings alone come to on one day: points, red flags and the outcome of the flow's own rules. */
import { conditionHolds, findingsIn } from '../clinical/condition.ts';
import type { FindingId, Findings } from '../clinical/finding.ts';
import { ADVISE, SAME_DAY, rank, worse, type Outcome } from '../clinical/outcome.ts';
import { holdsAt, type TimeSince } from '../clinical/window.ts';
import type { Concern, Flow, Rule } from '../flow/compiled.ts';
import { rulesThatMayHold } from './rule-index.ts';

/** One thing that moved the outcome: what it came to by itself, and where it is written. */
export interface Fired {
  readonly rule: Rule;
  /** False when the rule's days are over and only the remainder of a red flag counts. */
  readonly inside: boolean;
  readonly to: Outcome;
  readonly points: number;
}

export interface Scored {
  readonly outcome: Outcome;
  readonly points: Readonly<Record<string, number>>;
  readonly fired: readonly Fired[];
  /** Concerns whose points crossed a threshold, with what that came to. */
  readonly crossed: readonly { readonly concern: Concern; readonly points: number; readonly to: Outcome }[];
}

/**
 * What one rule whose condition holds comes to at this time.
 * Outside its window a red flag still gives a same-day review, unless it says why it is harmless there.
 * Null: it counts nothing then.
 */
export function ruleEffectAt(rule: Rule, time: TimeSince): Fired | null {
  const inside = holdsAt(rule.window, time);
  switch (rule.effect.kind) {
    case 'points':
      return inside ? { rule, inside, to: ADVISE, points: rule.effect.points } : null;
    case 'at-least':
      return inside ? { rule, inside, to: rule.effect.to, points: 0 } : null;
    case 'red-flag':
      if (inside) return { rule, inside, to: rule.effect.to, points: 0 };
      return rule.effect.harmlessOutside === null ? { rule, inside, to: SAME_DAY, points: 0 } : null;
  }
}

/** The outcome that so many points of a concern give; advise below the first threshold. */
function thresholdOutcome(concern: Concern, points: number, findings: Findings): Outcome {
  let outcome: Outcome = ADVISE;
  for (const threshold of concern.thresholds) {
    if (points < threshold.points) continue;
    if (threshold.when !== null && !conditionHolds(threshold.when, findings)) continue;
    outcome = worse(outcome, threshold.to);
  }
  return outcome;
}

/**
 * The worst of all rules, all concerns and the flow's floor. Findings that were not reached count nothing here;
 * what an unfinished call means is added in `assess`. The order of findings does not matter.
 */
export function score(flow: Flow, time: TimeSince, findings: Findings): Scored {
  return Object.isFrozen(findings) && Object.isFrozen(flow)
    ? scoredOnce(flow, time, findings)
    : scoreNow(flow, time, findings);
}

interface Known {
  readonly flow: Flow;
  /** Rules whose conditions hold, whatever the time. */
  readonly holding: readonly Rule[];
  readonly byTime: { readonly time: TimeSince; readonly scored: Scored }[];
}

const known = new WeakMap<Findings, Known[]>();

/** Asking and assessing score the same findings several times a turn; what is frozen comes to the same each time. */
function scoredOnce(flow: Flow, time: TimeSince, findings: Findings): Scored {
  const { holding, byTime } = knownOf(flow, findings);
  const before = byTime.find((one) => one.time.day === time.day && one.time.hours === time.hours);
  if (before !== undefined) return before.scored;
  const scored = scoreHolding(flow, time, { findings, holding });
  byTime.push({ time: { day: time.day, hours: time.hours }, scored });
  return scored;
}

function knownOf(flow: Flow, findings: Findings): Known {
  const all = known.get(findings) ?? [];
  const before = all.find((one) => one.flow === flow);
  if (before !== undefined) return before;
  const now: Known = { flow, holding: holdingRules(flow, findings), byTime: [] };
  all.push(now);
  known.set(findings, all);
  return now;
}

function scoreNow(flow: Flow, time: TimeSince, findings: Findings): Scored {
  return scoreHolding(flow, time, { findings, holding: holdingRules(flow, findings) });
}

function holdingRules(flow: Flow, findings: Findings): readonly Rule[] {
  const rules = Object.isFrozen(flow) ? rulesThatMayHold(flow, findings) : flow.rules;
  return rules.filter((rule) => conditionHolds(rule.if, findings));
}

interface Holding {
  readonly findings: Findings;
  readonly holding: readonly Rule[];
}

function scoreHolding(flow: Flow, time: TimeSince, { findings, holding }: Holding): Scored {
  const fired: Fired[] = [];
  const points: Record<string, number> = {};
  let outcome: Outcome = flow.floor ?? ADVISE;
  for (const rule of holding) {
    const effect = ruleEffectAt(rule, time);
    if (effect === null) continue;
    fired.push(effect);
    outcome = worse(outcome, effect.to);
    if (rule.effect.kind === 'points') {
      points[rule.effect.concern] = (points[rule.effect.concern] ?? 0) + rule.effect.points;
    }
  }
  const crossed = flow.concerns.flatMap((concern) => {
    const total = points[concern.id] ?? 0;
    const to = thresholdOutcome(concern, total, findings);
    return rank(to) > 0 ? [{ concern, points: total, to }] : [];
  });
  for (const { to } of crossed) outcome = worse(outcome, to);
  return { outcome, points, fired, crossed };
}

/** How a red flag is named: by its finding, or by its rule when it takes a combination. */
export function redFlagName(rule: Rule): FindingId {
  const findings = findingsIn(rule.if);
  return findings.length === 1 && findings[0] !== undefined ? findings[0] : rule.id;
}
