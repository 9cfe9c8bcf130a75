/** Property 5: every question, rule, advice text and threshold can be reached on some day; what cannot is named. */
import { findingsIn } from '../clinical/condition.ts';
import { holdsAt } from '../clinical/window.ts';
import { questionReach } from './question-reach.ts';
import { findout, toProof, type Findout, type Proof } from './report.ts';
import type { Subject } from './subject.ts';
import { deadTexts } from './text-reach.ts';
import { thresholdReach } from './threshold-reach.ts';

export function proveReachable(subject: Subject): Proof {
  const found = findout();
  checkRules(subject, found);
  checkQuestions(subject, found);
  checkThresholds(subject, found);
  for (const text of deadTexts(subject)) dead(found, text);
  found.cases += subject.flow.aftercare.length + subject.flow.safetyNet.length + subject.flow.normal.length;
  return toProof(5, found);
}

function dead(found: Findout, says: string): void {
  found.counterexamples.push({ says, at: { day: 0, hours: null }, findings: {}, atLeast: null });
}

/** A rule is reached when some moment gives it an effect and some answers fulfil one of its rows. */
function checkRules({ flow, tables, moments }: Subject, found: Findout): void {
  const settled = new Set(flow.questions.flatMap(({ findings }) => findings));
  for (const [at, { rule, rows, concern }] of tables.rules.entries()) {
    found.cases += 1;
    const isInside = moments.some((moment) => holdsAt(rule.window, moment.at));
    const counts = rule.effect.kind !== 'points' || concern >= 0;
    if (!isInside || !counts || rows.length === 0) dead(found, `The rule ${rule.id} can never count.`);
    if (rows.length > 0 && rows.length < rule.if.length) {
      found.listed.push(`${rule.id}: ${String(rule.if.length - rows.length)} of its rows can never hold`);
    }
    const unasked = findingsIn(tables.rules[at]?.rule.if ?? []).filter((id) => !settled.has(id));
    if (unasked.length > 0) {
      found.listed.push(
        `${rule.id}: no question settles ${unasked.join(', ')}; counts only when volunteered`,
      );
    }
  }
}

function checkQuestions(subject: Subject, found: Findout): void {
  for (const question of subject.flow.questions) {
    // What stands for other questions brings nothing of its own; it is put where a call would grow too long.
    if (question.opens !== undefined) continue;
    found.cases += 1;
    const reach = questionReach(subject, question);
    if (reach === 'dead') dead(found, `The question ${question.id} is never put on any day.`);
    if (reach === 'cut-away') found.listed.push(`${question.id} lies outside the days of its topic here`);
    if (reach === 'ticked') found.listed.push(`${question.id} is never put; it is volunteered or ticked`);
  }
}

/** Thresholds that this flow's points can never reach are named; a shared concern may need them in another flow. */
function checkThresholds(subject: Subject, found: Findout): void {
  for (const [concern, { id, thresholds }] of subject.flow.concerns.entries()) {
    for (const threshold of thresholds.keys()) {
      found.cases += 1;
      const reach = thresholdReach(subject, { concern, threshold });
      if (reach === 'reached') continue;
      const points = String(thresholds[threshold]?.points ?? 0);
      found.listed.push(
        reach === 'dead'
          ? `${id} never comes to ${points} points: this threshold is dead in this flow`
          : `${id}: whether it can come to ${points} points was not decided`,
      );
    }
  }
}
