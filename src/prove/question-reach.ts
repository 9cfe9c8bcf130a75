/**
 * Whether the agenda ever puts a question: with its own condition fulfilled by as few answers as will do, everything else
 * known and reassuring, on some day of its window; questions about an urgent call with an urgent answer besides.
 */
import { conditionHolds } from '../clinical/condition.ts';
import { IMMEDIATE_DANGER, UNSURE, type Findings, type Test } from '../clinical/finding.ts';
import { holdsAt } from '../clinical/window.ts';
import { isOnlyOpened } from '../call/agenda.ts';
import { freshCircumstances } from '../call/circumstances.ts';
import type { Question } from '../flow/compiled.ts';
import { isUnsureUrgent } from '../flow/law.ts';
import type { Subject } from './subject.ts';
import type { TimeClass } from './times.ts';

/** ticked: never put, there to be volunteered or ticked. */
export type QuestionReach = 'put' | 'ticked' | 'dead';

export function questionReach(subject: Subject, question: Question): QuestionReach {
  const groups = subject.flow.questions.filter(
    ({ kind, findings }) => kind === 'group' && findings.some((id) => question.findings.includes(id)),
  );
  const opened = isOnlyOpened(question);
  if (opened && groups.length === 0) return 'ticked';
  const asked = opened ? groups.slice(0, 1).map(({ id }) => id) : [];
  const classes = subject.classes.filter(({ at }) => holdsAt(question.window, at));
  for (const answers of fulfilling(question)) {
    for (const urgent of urgentAnswers(subject)) {
      const found = classes.some((one) =>
        isPut(subject, question, { one, asked, answers: { ...urgent, ...answers } }),
      );
      if (found) return 'put';
    }
  }
  return 'dead';
}

/** Nothing urgent, urgent without an emergency, an emergency. */
function urgentAnswers({ flow }: Subject): readonly Findings[] {
  const specs = Object.values(flow.findings);
  const unsure = specs.find((spec) => isUnsureUrgent(spec) && spec.group !== IMMEDIATE_DANGER);
  const danger = specs.find(({ group }) => group === IMMEDIATE_DANGER);
  return [
    {},
    ...(unsure === undefined ? [] : [{ [unsure.id]: UNSURE }]),
    ...(danger === undefined ? [] : [{ [danger.id]: 'yes' }]),
  ];
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

interface Try {
  readonly one: TimeClass;
  readonly asked: readonly string[];
  readonly answers: Findings;
}

function isPut(subject: Subject, question: Question, { one, asked, answers }: Try): boolean {
  const { flow, deciders } = subject;
  const known: Record<string, string | number> = {};
  for (const spec of Object.values(flow.findings)) {
    if (!question.findings.includes(spec.id)) known[spec.id] = spec.normal;
  }
  const findings = { ...known, ...answers };
  for (const id of question.findings) if (answers[id] === undefined) Reflect.deleteProperty(findings, id);
  const facts = flow.questions.flatMap(({ fact }) => (fact === null || fact === question.fact ? [] : [fact]));
  const next = deciders.agenda(flow, freshCircumstances(one.at), findings, { questions: asked, facts });
  return 'ask' in next && next.ask.id === question.id;
}
