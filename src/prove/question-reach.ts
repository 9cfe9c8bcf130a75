/**
 * Whether the agenda ever puts a question: with its own condition fulfilled by as few answers as will do, everything else
 * known and reassuring, on some day of its window; questions about an urgent call with an urgent answer besides.
 */
import { conditionHolds } from '../clinical/condition.ts';
import {
  IMMEDIATE_DANGER,
  UNSURE,
  type FindingId,
  type FindingValue,
  type Findings,
  type Test,
} from '../clinical/finding.ts';
import { holdsAt, type Window } from '../clinical/window.ts';
import { isOnlyOpened } from '../call/agenda.ts';
import { freshCircumstances } from '../call/circumstances.ts';
import type { Flow, Question } from '../flow/compiled.ts';
import { isUnsureUrgent } from '../flow/law.ts';
import { withReassuring } from './reassuring-call.ts';
import type { Subject } from './subject.ts';
import type { TimeClass } from './times.ts';

/** Questions about some of the same findings that may come before the one that is looked for. */
const MOST_BEFORE = 6;

/** ticked: never put, there to be volunteered or ticked. cut-away: the procedure uses its topic on other days. */
export type QuestionReach = 'put' | 'ticked' | 'cut-away' | 'dead';

/** A procedure that uses a topic on other days than the question's leaves an empty window. */
export function isCutAway({ days: [from, to] }: Window): boolean {
  return from > to;
}

export function questionReach(subject: Subject, question: Question): QuestionReach {
  const groups = subject.flow.questions.filter(
    ({ kind, findings, opens }) =>
      kind === 'group' && opens === undefined && findings.some((id) => question.findings.includes(id)),
  );
  if (isCutAway(question.window)) return 'cut-away';
  const opened = isOnlyOpened(question);
  if (opened && groups.length === 0) return 'ticked';
  const asked = opened ? groups.slice(0, 1).map(({ id }) => id) : [];
  // Late days first: what is asked after a red flag's days is not cut short by urgency.
  const classes = subject.classes
    .filter(({ at }) => holdsAt(question.window, at))
    .toSorted((a, b) => (b.at.day ?? 0) - (a.at.day ?? 0));
  for (const answers of fulfilling(question)) {
    for (const urgent of urgentAnswers(subject, question)) {
      const known = startOf(subject.flow, question, { ...urgent, ...answers });
      const found = classes.some((one) => isPut(subject, question, { one, asked, known }));
      if (found) return 'put';
    }
  }
  return 'dead';
}

/** Nothing urgent, urgent without an emergency, an emergency; the likeliest to make this question due comes first. */
function urgentAnswers({ flow }: Subject, { tier }: Question): readonly Findings[] {
  const specs = Object.values(flow.findings);
  const unsure = specs.find((spec) => isUnsureUrgent(spec) && spec.group !== IMMEDIATE_DANGER);
  const danger = specs.find(({ group }) => group === IMMEDIATE_DANGER);
  const answers: readonly Findings[] = [
    {},
    ...(unsure === undefined ? [] : [{ [unsure.id]: UNSURE }]),
    ...(danger === undefined ? [] : [{ [danger.id]: 'yes' }]),
  ];
  return tier === 'handover' ? answers.toReversed() : answers;
}

/** For each row of its condition, the answers that fulfil it. */
function fulfilling(question: Question): readonly Findings[] {
  if (question.when === null) return [{}];
  return question.when.flatMap((row) =>
    row
      .reduce<readonly Findings[]>(
        (partial, test) =>
          partial.flatMap((before) => valuesOf(test).map((value) => ({ ...before, [test.finding]: value }))),
        [{}],
      )
      .filter((findings) => conditionHolds([row], findings)),
  );
}

function valuesOf(test: Test): readonly (string | number)[] {
  if ('in' in test) return test.in;
  return ['atLeast' in test ? test.atLeast : test.atMost];
}

const normals = new WeakMap<Flow, Findings>();

function normalOf(flow: Flow): Findings {
  const before = normals.get(flow);
  if (before !== undefined) return before;
  const normal = Object.fromEntries(Object.values(flow.findings).map((spec) => [spec.id, spec.normal]));
  normals.set(flow, normal);
  return normal;
}

/** Everything known and reassuring but what the question settles, and these answers. */
function startOf(flow: Flow, question: Question, answers: Findings): Findings {
  const findings: Record<FindingId, FindingValue> = { ...normalOf(flow) };
  for (const id of question.findings) Reflect.deleteProperty(findings, id);
  return Object.freeze(Object.assign(findings, answers));
}

interface Try {
  readonly one: TimeClass;
  readonly asked: readonly string[];
  readonly known: Findings;
}

/** Other questions that settle some of the same findings may come first; they are answered reassuringly. */
function isPut(subject: Subject, question: Question, { one, asked, known }: Try): boolean {
  const { flow, deciders } = subject;
  const facts = flow.questions.flatMap(({ fact }) => (fact === null || fact === question.fact ? [] : [fact]));
  const put = [...asked];
  const circumstances = freshCircumstances(one.at);
  let findings = known;
  for (let turn = 0; turn < MOST_BEFORE; turn += 1) {
    const next = deciders.agenda(flow, circumstances, findings, { questions: put, facts });
    if ('finished' in next) return false;
    if (next.ask.id === question.id) return true;
    put.push(next.ask.id);
    findings = withReassuring(flow, findings, next.ask);
  }
  return false;
}
