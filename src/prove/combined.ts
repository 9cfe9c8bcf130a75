/**
 * Property 9: the flow of a combined operation never ends lower than the flow of one of its procedures alone, and asks
 * what each of them asks.
 *
 * Red flags that count nothing outside their days are listed with the reason that they state (red-flags.ts refutes one
 * without). Where every rule and threshold of the procedure stands in the combined flow with the same or a stronger effect, nothing
 * can end lower. Where one does not, the difference is searched for a call that does.
 */
import { canonicalJson } from '../basics/json.ts';
import { rank, type Outcome } from '../clinical/outcome.ts';
import { windowText, type TimeSince } from '../clinical/window.ts';
import type { Concern, Flow, Question, Rule } from '../flow/compiled.ts';
import { domainOf, findingsOf } from './domain.ts';
import { findDrop, isShorter, type Drop, type Parts } from './drop.ts';
import { findingsText, nameOf, outcomeText } from './phrases.ts';
import { dayToShow } from './playable.ts';
import { findout, toProof, type Findout, type Proof } from './report.ts';
import { decided, momentsByTime, type Subject } from './subject.ts';
import { momentAt, NOTHING, tablesOf, type Moment } from './tables.ts';
import { timeText } from './times.ts';

export function proveCombined(combined: Subject, alone: readonly Subject[]): Proof {
  const found = findout();
  const withRow = rulesByRow(combined.flow);
  for (const one of alone) {
    compareOutcomes({ combined, alone: one }, withRow, found);
    compareQuestions(combined.flow, one.flow, found);
  }
  for (const { id, effect, window } of combined.flow.rules) {
    if (effect.kind !== 'red-flag' || effect.harmlessOutside === null) continue;
    found.listed.push(`${id} counts nothing outside ${windowText(window)}: ${effect.harmlessOutside}`);
  }
  return toProof(9, found);
}

function compareOutcomes({ combined, alone }: Compared, withRow: RulesByRow, found: Findout): void {
  const standIns: StandIns = alone.flow.rules.map((rule) =>
    rule.if.map((row) => withRow.get(rowKey(rule, row)) ?? []),
  );
  const thresholds = loweredThresholds(alone.flow, combined.flow);
  const doubts = sharedMoments(combined, alone).flatMap(({ at, low, high }): Doubt[] => {
    found.cases += 1;
    const parts = doubtfulParts({ low, high, thresholds }, standIns);
    return parts.floor || parts.rules.length > 0 || parts.concerns.length > 0 ? [{ at, parts }] : [];
  });
  if (doubts.length > 0) search({ combined, alone }, doubts, found);
}

interface SharedMoment {
  readonly at: TimeSince;
  readonly low: Moment;
  readonly high: Moment;
}

/** Every pair of moments of the two flows that some time falls into. */
function sharedMoments(combined: Subject, alone: Subject): readonly SharedMoment[] {
  const highs = momentsByTime(alone);
  const pairs = new Map<Moment, Map<Moment, SharedMoment>>();
  for (const [at, low] of momentsByTime(combined)) {
    const high = highs.get(at);
    const known = pairs.get(low) ?? new Map<Moment, SharedMoment>();
    if (high !== undefined && !known.has(high)) known.set(high, { at, low, high });
    pairs.set(low, known);
  }
  return [...pairs.values()].flatMap((known) => [...known.values()]);
}

interface Doubt {
  readonly at: TimeSince;
  /** What no rule or threshold of the combined flow stands in for. */
  readonly parts: Parts;
}

interface Compared {
  readonly combined: Subject;
  readonly alone: Subject;
}

/** Looks for a call that ends lower in the combined flow; shows the shortest. */
function search({ combined, alone }: Compared, doubts: readonly Doubt[], found: Findout): void {
  const domain = domainOf([alone.flow, combined.flow]);
  const tables = { alone: tablesOf(alone.flow, domain), combined: tablesOf(combined.flow, domain) };
  let shortest: Drop | null = null;
  for (const { at, parts } of doubts) {
    const high = { moment: momentAt(tables.alone, at), held: null };
    const drop = findDrop(high, { moment: momentAt(tables.combined, at), held: null }, parts);
    if (drop === 'too-large') found.isUndecided = true;
    else if (drop !== null && (shortest === null || isShorter(drop, shortest))) shortest = drop;
  }
  if (shortest === null) return;
  const findings = findingsOf(domain, shortest.shared);
  const wanted = (time: TimeSince): Outcome => decided(alone, time, findings);
  const momentOf = momentsByTime(combined);
  const falling = doubts.flatMap((doubt) => {
    const moment = momentOf.get(doubt.at);
    const falls = rank(decided(combined, doubt.at, findings)) < rank(wanted(doubt.at));
    return falls && moment !== undefined ? [moment] : [];
  });
  const at = dayToShow(combined, falling, { findings, atLeast: wanted });
  const reached = decided(combined, at, findings);
  found.counterexamples.push({
    says: `On ${timeText(at)}, ${findingsText(findings)} comes to ${outcomeText(reached)} for ${nameOf(combined.flow)}, but to ${outcomeText(wanted(at))} for ${nameOf(alone.flow)} alone.`,
    at,
    findings,
    atLeast: wanted(at),
  });
}

/** By rule and row of the procedure alone, the numbers of the combined flow's rules that can stand in for it. */
type StandIns = readonly (readonly (readonly number[])[])[];

type RulesByRow = ReadonlyMap<string, readonly number[]>;

function rulesByRow(combined: Flow): RulesByRow {
  const withRow = new Map<string, number[]>();
  for (const [at, rule] of combined.rules.entries()) {
    for (const row of rule.if) {
      const key = rowKey(rule, row);
      const known = withRow.get(key);
      if (known === undefined) withRow.set(key, [at]);
      else known.push(at);
    }
  }
  return withRow;
}

function rowKey(rule: Rule, row: Rule['if'][number]): string {
  const { effect } = rule;
  return `${effect.kind === 'points' ? effect.concern : ''} ${canonicalJson(row)}`;
}

interface Sides {
  readonly low: Moment;
  readonly high: Moment;
  /** Concerns whose thresholds do not all stand. */
  readonly thresholds: readonly number[];
}

/**
 * The parts of the procedure alone that nothing stands in for at this moment. For a flag any rule with its row and no milder
 * effect will do; points need one rule that has all their rows, gives no fewer and stands in for no other.
 */
function doubtfulParts({ low: combined, high: alone, thresholds }: Sides, standIns: StandIns): Parts {
  const used = new Set<number>();
  const rules: number[] = [];
  const concerns = new Set(thresholds);
  for (const [at, { concern }] of alone.tables.rules.entries()) {
    const rows = standIns[at] ?? [];
    const points = alone.points[at] ?? 0;
    const own = alone.ranks[at] ?? NOTHING;
    const isStoodInFor = rows.every((by) => by.some((other) => (combined.ranks[other] ?? NOTHING) >= own));
    if (own > 0 && !isStoodInFor) rules.push(at);
    if (points === 0 || concern < 0) continue;
    const whole = (rows[0] ?? []).find(
      (other) =>
        !used.has(other) && (combined.points[other] ?? 0) >= points && rows.every((by) => by.includes(other)),
    );
    if (whole === undefined) concerns.add(concern);
    else used.add(whole);
  }
  return { rules, concerns: [...concerns], floor: alone.tables.floor > combined.tables.floor };
}

/** The numbers of concerns that have a threshold which the combined flow does not have at as few points. */
function loweredThresholds(alone: Flow, combined: Flow): readonly number[] {
  const concerns = new Map(combined.concerns.map((concern) => [concern.id, concern]));
  return alone.concerns.flatMap((concern, at) => {
    const other = concerns.get(concern.id);
    const stands =
      other !== undefined && concern.thresholds.every((threshold) => hasThreshold(other, threshold));
    return stands ? [] : [at];
  });
}

function hasThreshold(concern: Concern, threshold: Concern['thresholds'][number]): boolean {
  return concern.thresholds.some((other) => {
    if (other.points > threshold.points || rank(other.to) < rank(threshold.to)) return false;
    const rows = new Set((other.when ?? []).map(canonicalJson));
    return other.when === null || (threshold.when ?? []).every((row) => rows.has(canonicalJson(row)));
  });
}

/** A question that one procedure asks is asked in the combined flow, on the same days at least. */
function compareQuestions(combined: Flow, alone: Flow, found: Findout): void {
  const known = new Map(combined.questions.map((question) => [question.id, question]));
  for (const question of alone.questions) {
    // What stands for other questions brings nothing of its own.
    if (question.opens !== undefined) continue;
    found.cases += 1;
    const other = known.get(question.id);
    if (other !== undefined && asksNoLess(other, question)) continue;
    found.counterexamples.push({
      says: `The question ${question.id} of ${alone.id} is ${other === undefined ? 'not asked' : 'asked on fewer days or under more conditions'} in ${nameOf(combined)}.`,
      at: { day: question.window.days[0], hours: null },
      findings: {},
      atLeast: null,
    });
  }
}

function asksNoLess(other: Question, question: Question): boolean {
  if (other === question) return true;
  const [from, to] = question.window.days;
  const days = other.window.days[0] <= from && other.window.days[1] >= to;
  const hours =
    other.window.hours === null ||
    (question.window.hours !== null &&
      other.window.hours[0] <= question.window.hours[0] &&
      other.window.hours[1] >= question.window.hours[1]);
  const rows = new Set((other.when ?? []).map(canonicalJson));
  const when = other.when === null || (question.when?.every((row) => rows.has(canonicalJson(row))) ?? false);
  const skip = other.skipIf === null || canonicalJson(other.skipIf) === canonicalJson(question.skipIf);
  return days && hours && when && skip && question.findings.every((id) => other.findings.includes(id));
}
