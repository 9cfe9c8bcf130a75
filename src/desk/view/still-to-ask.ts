/** What is still open: the questions that would follow if every answer were the usual one. */
import type { Standing } from '../../call/step.ts';
import { agendaOf } from '../../call/standing.ts';
import type { Flow, Question } from './values.ts';

type Context = Standing['context'];
type Ahead = readonly Question[];

const LOOKS_AHEAD = 40;
/** Of each flow; a call of fifteen questions that goes the usual way needs fifteen. */
const KEPT = 2_000;

const kept = new WeakMap<Flow, Map<string, Ahead>>();

/** The questions after the present one, in order; a worrying answer can add to them. */
export function stillToAsk(flow: Flow, standing: Standing): Ahead {
  if (standing.at !== 'asking' || standing.question === null) return [];
  return aheadOf(flow, answeredAsUsual(flow, standing.context, standing.question));
}

/**
 * Looking ahead asks the agenda once for each question, and a call that goes the usual way comes by each of these points
 * itself. So what follows a point is kept by all that the agenda reads there.
 */
function aheadOf(flow: Flow, from: Context): Ahead {
  const known = kept.get(flow) ?? new Map<string, Ahead>();
  kept.set(flow, known);
  const points: string[] = [];
  const ahead: Question[] = [];
  let context = from;
  for (let step = 0; step < LOOKS_AHEAD; step += 1) {
    const point = pointOf(context);
    const after = known.get(point);
    if (after !== undefined) return remember(known, [...points, point], [...ahead, ...after]);
    points.push(point);
    const next = agendaOf(flow, context);
    if ('finished' in next) return remember(known, points, ahead);
    ahead.push(next.ask);
    context = answeredAsUsual(flow, context, next.ask);
  }
  return ahead;
}

/** Everything that decides what is asked, and nothing else: not what was said in words, nor how a value came. */
function pointOf(context: Context): string {
  const { times, clinic, earlierCalls, ending, limitReached, told, raised, lowered, asked } = context;
  const held = Object.entries(context.held).map(([id, { value, takenBackTo }]) => [id, value, takenBackTo]);
  const facts = Object.keys(context.facts);
  const said = [held, asked, facts, context.opening === null];
  return JSON.stringify([times, clinic, earlierCalls, ending, limitReached, told, raised, lowered, said]);
}

/** After the first point all the questions follow, after the second all but the first, and so on. */
function remember(known: Map<string, Ahead>, points: readonly string[], ahead: Ahead): Ahead {
  for (const [at, point] of points.entries()) {
    // Taken out first, so that the order of the map is the order of use.
    known.delete(point);
    known.set(point, ahead.slice(at));
  }
  for (const oldest of known.keys()) {
    if (known.size <= KEPT) break;
    known.delete(oldest);
  }
  return ahead;
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
