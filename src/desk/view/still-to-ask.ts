/** What is still open: the questions that would follow if every answer were the usual one. */
import type { Standing } from '../../call/step.ts';
import { agendaOf } from '../../call/standing.ts';
import type { Flow, Question } from './values.ts';

type Context = Standing['context'];

const LOOKS_AHEAD = 40;

/** The questions after the present one, in order; a worrying answer can add to them. */
export function stillToAsk(flow: Flow, standing: Standing): readonly Question[] {
  if (standing.at !== 'asking' || standing.question === null) return [];
  const next: Question[] = [];
  let context = answeredAsUsual(flow, standing.context, standing.question);
  for (let step = 0; step < LOOKS_AHEAD; step += 1) {
    const following = agendaOf(flow, context);
    if ('finished' in following) return next;
    next.push(following.ask);
    context = answeredAsUsual(flow, context, following.ask);
  }
  return next;
}

function answeredAsUsual(flow: Flow, context: Context, question: Question): Context {
  const asked = [...context.asked, question.id];
  if (question.fact !== null) {
    const facts = { ...context.facts, [question.fact]: '-' };
    return { ...context, asked, facts, opening: question.fact === 'opening' ? '-' : context.opening };
  }
  const usual = question.findings.map((id) => {
    const known = context.held[id];
    const value = flow.findings[id]?.normal ?? 'no';
    return [id, known ?? { value, how: 'asked', question: question.id, takenBackTo: null }] as const;
  });
  return { ...context, asked, held: { ...context.held, ...Object.fromEntries(usual) } };
}
