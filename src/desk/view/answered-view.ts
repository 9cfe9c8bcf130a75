/** What has been answered, written down or volunteered so far, each with the answers that would correct it. */
import type { Standing } from '../../call/step.ts';
import { UNSURE } from '../../clinical/finding.ts';
import type { Answered } from '../contract/call-view.ts';
import { labelOf, numberOf, optionsOf, type Flow, type Question } from './values.ts';

type Context = Standing['context'];

/** In the order in which it was asked; what nobody asked comes after. */
export function answeredShapes(flow: Flow, context: Context): readonly Answered[] {
  const asked = context.asked.flatMap((id) => {
    const question = flow.questions.find((one) => one.id === id);
    return question === undefined ? [] : [askedShape(flow, context, question)];
  });
  const settledByAsking = new Set(asked.flatMap(({ finding }) => finding ?? []));
  const others = Object.entries(context.held).flatMap(([id, held]) =>
    settledByAsking.has(id) || held.how === 'group' || held.how === 'asked'
      ? []
      : heldShape(flow, context, id),
  );
  return [...asked, ...others];
}

function askedShape(flow: Flow, context: Context, question: Question): Answered {
  const [finding] = question.findings;
  if (question.kind === 'fact') return factShape(context, question);
  if (question.kind === 'finding' && finding !== undefined) {
    const [shape] = heldShape(flow, context, finding);
    if (shape !== undefined) return { ...shape, question: question.id, asked: question.words };
  }
  return groupShape(context, question);
}

function factShape(context: Context, question: Question): Answered {
  const text = question.fact === 'opening' ? context.opening : context.facts[question.fact ?? 'opening'];
  return {
    how: 'fact',
    question: question.id,
    finding: null,
    asked: question.words,
    answer: text ?? '',
    takenBackTo: null,
    options: [],
    number: null,
  };
}

/** A group that was denied as a whole, or the part of it that is still open. */
function groupShape(context: Context, question: Question): Answered {
  const denied = question.findings.every((id) => context.held[id]?.how === 'group');
  const missing = question.findings.filter((id) => context.held[id] === undefined);
  const label = question.answers.find(({ value }) => value === 'no')?.label ?? 'No';
  const answer = denied ? label : missing.length > 0 ? 'Being asked one by one' : 'Asked one by one';
  return {
    how: 'group',
    question: question.id,
    finding: null,
    asked: question.words,
    answer,
    takenBackTo: null,
    options: question.answers,
    number: null,
  };
}

function heldShape(flow: Flow, context: Context, id: string): readonly Answered[] {
  const held = context.held[id];
  const spec = flow.findings[id];
  if (held === undefined || spec === undefined) return [];
  return [
    {
      how: held.how,
      question: held.question,
      finding: id,
      asked: spec.is,
      answer: labelOf(flow, id, held.value),
      takenBackTo: held.takenBackTo === null ? null : labelOf(flow, id, held.takenBackTo),
      options: optionsOf(flow, spec),
      number: numberOf(spec),
    },
  ];
}

/** What stayed unknown, in clinical words. */
export function unknownTexts(flow: Flow, context: Context): readonly string[] {
  return Object.entries(context.held).flatMap(([id, held]) =>
    held.value === UNSURE ? [flow.findings[id]?.is ?? id] : [],
  );
}
