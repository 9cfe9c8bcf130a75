/** The question of the moment as the nurse sees it: words to read, why, what "I don't know" means, the answers. */
import type { QuestionShape } from '../contract/call-view.ts';
import { findingsIn } from '../../clinical/condition.ts';
import { IMMEDIATE_DANGER } from '../../clinical/finding.ts';
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
    danger: isDanger(flow, question),
    again,
    options: single && first.kind === 'number' ? optionsOf(flow, first) : question.answers,
    number: single ? numberOf(first) : null,
    members: specs.map(({ is }) => is),
  };
}

/** An answer can be an immediate danger or part of a red flag. */
function isDanger(flow: Flow, question: Question): boolean {
  if (question.tier === 'screen') return true;
  return question.findings.some((id) => flow.findings[id]?.group === IMMEDIATE_DANGER || inRedFlag(flow, id));
}

function inRedFlag(flow: Flow, finding: string): boolean {
  return flow.rules.some((rule) => rule.effect.kind === 'red-flag' && findingsIn(rule.if).includes(finding));
}
