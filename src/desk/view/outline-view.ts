/** The script as a list: what is done, what is asked now and next, what is skipped and why. */
import { conditionHolds } from '../../clinical/condition.ts';
import { holdsAt } from '../../clinical/window.ts';
import { isOnlyOpened } from '../../call/agenda.ts';
import { findingsOf } from '../../call/standing.ts';
import type { Standing } from '../../call/step.ts';
import type { OutlineLine } from '../contract/call-view.ts';
import type { Flow, Question } from './values.ts';

/** `next` are the questions that would follow if every answer were the usual one, in order. */
export function outlineShape(
  flow: Flow,
  standing: Standing,
  next: readonly Question[],
): readonly OutlineLine[] {
  const { context, question } = standing;
  const done = context.asked.flatMap((id) => flow.questions.find((one) => one.id === id) ?? []);
  const now = question === null ? [] : [question];
  const shown = new Set([...done, ...now, ...next].map(({ id }) => id));
  const skipped = flow.questions.filter(({ id }) => !shown.has(id));
  return [
    ...done.filter(({ id }) => id !== question?.id).map((one) => line(one, 'done')),
    ...now.map((one) => line(one, 'now')),
    ...next.map((one) => line(one, 'next')),
    ...skipped.map((one) => ({ ...line(one, 'skipped'), skippedBecause: whySkipped(standing, one) })),
  ];
}

function line({ id, words }: Question, state: OutlineLine['state']): OutlineLine {
  return { id, words, state, skippedBecause: null };
}

function whySkipped(standing: Standing, question: Question): OutlineLine['skippedBecause'] {
  const { context } = standing;
  const findings = findingsOf(context);
  if (isKnown(context, question)) return 'known';
  if (question.tier === 'handover') return 'urgent';
  if (question.skipIf !== null && conditionHolds(question.skipIf, findings)) return 'covered';
  if (!context.times.some((time) => holdsAt(question.window, time))) return 'not-this-day';
  if (isOnlyOpened(question)) return 'not-pointed-to';
  if (question.when !== null && !conditionHolds(question.when, findings)) return 'not-pointed-to';
  return 'everyday-only';
}

function isKnown({ held, facts, opening }: Standing['context'], question: Question): boolean {
  if (question.fact === 'opening') return opening !== null;
  if (question.fact !== null) return facts[question.fact] !== undefined;
  return question.findings.every((id) => held[id] !== undefined);
}
