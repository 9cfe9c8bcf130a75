/**
 * Property 7: no order of telling, skipping and correcting changes the outcome of the same final findings, nothing having
 * been told yet; a danger that was taken back is one of the findings.
 *
 * Any order can be turned into any other by exchanging neighbours, so it is enough that two findings come to the same
 * whichever is settled first, that a mis-keyed answer leaves no trace, that the deciding function does not look at the
 * order of its findings, and that taking back never lowers what a red flag came to.
 */
import { rank } from '../clinical/outcome.ts';
import { holdsAt } from '../clinical/window.ts';
import { UNSURE, type FindingId, type FindingValue, type Findings } from '../clinical/finding.ts';
import { freshCircumstances } from '../call/circumstances.ts';
import { emptyContext, type CallContext } from '../call/context.ts';
import type { Correction } from '../call/settle.ts';
import { findingsOf as findingsInContext } from '../call/standing.ts';
import type { Rule } from '../flow/compiled.ts';
import { assignmentOf, findingsOf } from './domain.ts';
import { findingsText, rankText } from './phrases.ts';
import { findout, toProof, type Findout, type Proof } from './report.ts';
import { waysToFulfil } from './side.ts';
import { confirm, decided, type Subject } from './subject.ts';
import { rankOf, type Moment } from './tables.ts';
import { timeText } from './times.ts';

export function proveTellingOrder(subject: Subject): Proof {
  const found = findout();
  const told = new Set<string>();
  const shown = new Set<FindingId>();
  for (const { rule, rows } of subject.tables.rules) {
    const moment = subject.moments.find(({ at }) => holdsAt(rule.window, at));
    if (moment === undefined) continue;
    for (const row of rows) {
      const [given] = waysToFulfil({ moment, held: null }, row);
      if (given === undefined) continue;
      const situation = { moment, findings: findingsOf(subject.domain, given) };
      const key = Object.keys(situation.findings).join();
      if (!told.has(key)) checkBothOrders(subject, situation, found);
      told.add(key);
      if (rule.effect.kind === 'red-flag') checkTakenBack(subject, { ...situation, rule, shown }, found);
    }
  }
  for (const { spec, values } of subject.findings) {
    for (const value of values) checkMisKeyed(subject, { id: spec.id, value }, found);
  }
  return toProof(7, found);
}

interface Told {
  readonly id: FindingId;
  readonly value: FindingValue;
}

function tell(subject: Subject, context: CallContext, told: Told & { correction: Correction }): CallContext {
  return subject.deciders.settle(subject.flow, context, {
    finding: told.id,
    value: told.value,
    how: 'volunteered',
    question: null,
    correction: told.correction,
  });
}

function tellAll(subject: Subject, told: readonly (readonly [FindingId, FindingValue])[]): CallContext {
  return told.reduce(
    (context, [id, value]) => tell(subject, context, { id, value, correction: 'taken-back' }),
    emptyContext(),
  );
}

interface Situation {
  readonly moment: Moment;
  readonly findings: Findings;
}

/** The findings of one row settled forwards and backwards, and handed to the deciding function in either order. */
function checkBothOrders(subject: Subject, { moment, findings }: Situation, found: Findout): void {
  const told = Object.entries(findings);
  if (told.length < 2) return;
  found.cases += 1;
  const circumstances = freshCircumstances(moment.at);
  const results = [told, told.toReversed()].map((order) => {
    const settled = findingsInContext(tellAll(subject, order));
    return JSON.stringify(subject.deciders.assess(subject.flow, circumstances, settled));
  });
  if (results[0] === results[1]) return;
  found.counterexamples.push({
    says: `On ${timeText(moment.at)}, ${findingsText(findings)} comes to something else when it is told backwards.`,
    at: moment.at,
    findings,
    atLeast: null,
  });
}

/** A value that was keyed by mistake and corrected leaves the call as if it had never been there. */
function checkMisKeyed(subject: Subject, { id, value }: Told, found: Findout): void {
  const normal = subject.flow.findings[id]?.normal;
  if (normal === undefined || normal === value) return;
  found.cases += 1;
  const straight = tell(subject, emptyContext(), { id, value: normal, correction: 'mis-keyed' });
  const wrong = tell(subject, emptyContext(), { id, value, correction: 'mis-keyed' });
  const corrected = tell(subject, wrong, { id, value: normal, correction: 'mis-keyed' });
  if (JSON.stringify(straight.held[id]) === JSON.stringify(corrected.held[id])) return;
  found.counterexamples.push({
    says: `${id}=${String(value)} was keyed by mistake and corrected, but still counts.`,
    at: { day: 0, hours: null },
    findings: { [id]: normal },
    atLeast: null,
  });
}

/** Whether the same findings count with the same values. */
function isSame({ held: a }: CallContext, { held: b }: CallContext): boolean {
  const ids = Object.keys(a);
  return ids.length === Object.keys(b).length && ids.every((id) => a[id]?.value === b[id]?.value);
}

interface Flag {
  readonly rule: Rule;
  /** Findings of which a call was shown already. */
  readonly shown: Set<FindingId>;
}

/** Saying something else afterwards does not lower a red flag that was raised. One call is shown for each finding. */
function checkTakenBack(subject: Subject, situation: Situation & Flag, found: Findout): void {
  const { moment, findings, rule, shown } = situation;
  const flag = rule.effect;
  if (flag.kind !== 'red-flag') return;
  const raised = tellAll(subject, Object.entries(findings));
  const before = rankOf(moment, assignmentOf(subject.domain, findingsInContext(raised)));
  for (const id of Object.keys(findings)) {
    // What was not known was not said, so there is nothing to take back.
    if (findings[id] === UNSURE) continue;
    const values = subject.domain.findings[subject.domain.indexOf.get(id) ?? 0]?.values ?? [];
    for (const value of shown.has(id) ? [] : values) {
      found.cases += 1;
      const said = tell(subject, raised, { id, value, correction: 'taken-back' });
      const after = isSame(raised, said) ? null : findingsInContext(said);
      const comesTo = after === null ? before : rankOf(moment, assignmentOf(subject.domain, after));
      if (comesTo >= rank(flag.to)) continue;
      confirm(decided(subject, moment.at, after ?? findings), comesTo);
      shown.add(id);
      found.counterexamples.push({
        says: `On ${timeText(moment.at)}, ${findingsText(findings)} raised the red flag ${rule.id}; then ${id}=${String(value)} was said, and the call fell to ${rankText(comesTo)}.`,
        at: moment.at,
        findings,
        atLeast: flag.to,
      });
      break;
    }
  }
}
