/**
 * Property 1: every way through ends in an outcome, within the limit on questions.
 *
 * The agenda never puts a question whose id was asked, and past 40 it only collects what an ambulance needs, so a call
 * ends; what is shown here is what the flow has to bring along for that, and how long calls are in which nothing is wrong.
 */
import { UNSURE, type FindingId } from '../clinical/finding.ts';
import { holdsAt } from '../clinical/window.ts';
import { MOST_ON_A_WELL_CALL, MOST_ON_AN_EVERYDAY_CALL, QUESTION_LIMIT } from '../call/agenda.ts';
import { freshCircumstances } from '../call/circumstances.ts';
import type { Question } from '../flow/compiled.ts';
import { reassuringCall, type ReassuringCall } from './reassuring-call.ts';
import { findout, toProof, type Findout, type Proof } from './report.ts';
import type { Subject } from './subject.ts';
import { timeText, type TimeClass } from './times.ts';

export function proveEndings(subject: Subject): Proof {
  const found = findout();
  const { questions } = subject.flow;
  const ids = new Set(questions.map(({ id }) => id));
  if (ids.size < questions.length) {
    fail(subject, found, 'Two questions have the same id, so the second is never put.');
  }
  checkLimit(subject, found);
  for (const group of questions) if (group.kind === 'group') checkGroup(subject, group, found);
  const classes = askingClasses(subject);
  for (const one of isCombined(subject) ? classes.slice(0, 1) : classes) {
    checkWellCall(subject, one, found);
    checkEverydayCall(subject, one, found);
  }
  const longest = classes[0] === undefined ? 0 : asksAtMost(subject, classes[0]);
  found.listed.push(`no call has more than ${String(Math.min(longest, QUESTION_LIMIT))} questions`);
  return toProof(1, found);
}

function isCombined({ flow }: Subject): boolean {
  return flow.procedures.length > 1;
}

/** One class of known days for each set of questions that the day allows; the one that allows most comes first. */
function askingClasses(subject: Subject): readonly TimeClass[] {
  const bySet = new Map<string, TimeClass>();
  for (const one of subject.classes) {
    const set = subject.flow.questions.map(({ window }) => (holdsAt(window, one.at) ? '1' : '0')).join('');
    if (one.at.day !== null && !bySet.has(set)) bySet.set(set, one);
  }
  return [...bySet.values()].toSorted((a, b) => asksAtMost(subject, b) - asksAtMost(subject, a));
}

function asksAtMost({ flow }: Subject, { at }: TimeClass): number {
  return flow.questions.filter(({ window }) => holdsAt(window, at)).length;
}

function fail(subject: Subject, found: Findout, says: string, findings = {}): void {
  const at = subject.classes[0]?.at ?? { day: 0, hours: null };
  found.counterexamples.push({ says, at, findings, atLeast: null });
}

function checkLimit(subject: Subject, found: Findout): void {
  found.cases += 1;
  const questions = Array.from({ length: QUESTION_LIMIT }, (_, at) => `asked-${String(at)}`);
  const circumstances = freshCircumstances({ day: 0, hours: null });
  const next = subject.deciders.agenda(subject.flow, circumstances, {}, { questions, facts: [] });
  if ('finished' in next && next.finished === 'limit') return;
  fail(subject, found, `After ${String(QUESTION_LIMIT)} questions the asking goes on.`);
}

/** A group that is answered "yes" or "I don't know" opens a question of its own for each of its members. */
function checkGroup({ flow }: Subject, group: Question, found: Findout): void {
  for (const member of group.findings) {
    found.cases += 1;
    const opens = flow.questions.some(
      ({ kind, tier, findings }) => kind === 'finding' && tier !== 'handover' && findings.includes(member),
    );
    if (opens) continue;
    found.counterexamples.push({
      says: `The group ${group.id} was answered "yes", but no question settles ${member}, so the call ends without it.`,
      at: { day: group.window.days[0], hours: null },
      findings: { [member]: UNSURE },
      atLeast: null,
    });
  }
}

function checkWellCall(subject: Subject, { at }: TimeClass, found: Findout): void {
  const call = reassuringCall(subject, { at, findings: {}, facts: [] });
  checkCall({ call, at, most: MOST_ON_A_WELL_CALL, what: 'in which nothing is wrong', findings: {} }, found);
}

function checkEverydayCall(subject: Subject, { at }: TimeClass, found: Findout): void {
  const asks = Object.keys(subject.flow.findings).find((id) => id.startsWith('asks-'));
  if (asks === undefined) return;
  const findings = { [asks]: 'yes' };
  const call = reassuringCall(subject, { at, findings, facts: [] });
  checkCall({ call, at, most: MOST_ON_AN_EVERYDAY_CALL, what: `that only ${asks}`, findings }, found);
}

interface Checked {
  readonly call: ReassuringCall;
  readonly at: TimeClass['at'];
  readonly most: number;
  readonly what: string;
  readonly findings: Readonly<Record<FindingId, string>>;
}

function checkCall({ call, at, most, what, findings }: Checked, found: Findout): void {
  found.cases += 1;
  const length = call.asked.length;
  if (call.finished === 'all-asked' && length <= most) return;
  const says =
    call.finished === 'all-asked'
      ? `On ${timeText(at)}, a call ${what} has ${String(length)} questions; at most ${String(most)} are accepted: ${call.asked.join(', ')}.`
      : `On ${timeText(at)}, a call ${what} ${call.finished === null ? 'does not end' : `ends as ${call.finished}`} after ${String(length)} questions.`;
  found.counterexamples.push({ says, at, findings, atLeast: null });
}
