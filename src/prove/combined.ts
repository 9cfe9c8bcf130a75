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
import type { Flow, Question } from '../flow/compiled.ts';
import { domainOf, findingsOf } from './domain.ts';
import { findDrop, isShorter, type Drop, type Parts } from './drop.ts';
import { findingsText, nameOf, outcomeText } from './phrases.ts';
import { dayToShow } from './playable.ts';
import { findout, toProof, type Findout, type Proof } from './report.ts';
import { decided, momentsByTime, type Subject } from './subject.ts';
import { doubtfulParts, isNothing, rulesByRow, standInsOf, type RulesByRow } from './stand-ins.ts';
import { momentAt, tablesOf, type Moment } from './tables.ts';
import { timeText } from './times.ts';

export function proveCombined(combined: Subject, alone: readonly Subject[]): Proof {
  const found = findout();
  const rows = rulesByRow(combined.flow);
  for (const one of alone) {
    compareOutcomes({ combined, alone: one }, rows, found);
    compareQuestions(combined.flow, one.flow, found);
  }
  for (const { id, effect, window } of combined.flow.rules) {
    if (effect.kind !== 'red-flag' || effect.harmlessOutside === null) continue;
    found.listed.push(`${id} counts nothing outside ${windowText(window)}: ${effect.harmlessOutside}`);
  }
  return toProof(9, found);
}

function compareOutcomes({ combined, alone }: Compared, rows: RulesByRow, found: Findout): void {
  const standIns = standInsOf(alone.flow, combined.flow, rows);
  const doubts = sharedMoments(combined, alone).flatMap(({ at, low, high }): Doubt[] => {
    found.cases += 1;
    const parts = doubtfulParts({ low, high }, standIns);
    return isNothing(parts) ? [] : [{ at, parts }];
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
