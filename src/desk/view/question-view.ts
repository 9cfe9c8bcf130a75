/** The question of the moment as the nurse sees it: words to read, why, what "I don't know" means, the answers. */
import type { QuestionShape } from '../contract/call-view.ts';
import { numberOf, optionsOf, type Flow, type Question } from './values.ts';

export function questionShape(flow: Flow, question: Question, again: boolean): QuestionShape {
  const specs = question.findings.flatMap((id) => flow.findings[id] ?? []);
  const [first] = specs;
  const single = question.kind === 'finding' && first !== undefined;
  return {
    id: question.id,
    tier: question.tier,
    kind: question.kind,
    fact: question.fact,
    words: question.words,
    why: question.why,
    unsureMeans: question.unsureMeans,
    again,
    options: single && first.kind === 'number' ? optionsOf(flow, first) : question.answers,
    number: single ? numberOf(first) : null,
    members: specs.map(({ is }) => is),
  };
}
