/** How the terminal shows a question, why it is asked, and the outcome with what belongs to it. */
import { aftercareNow, normalNow, outcomeWords, safetyNet } from '../call/advice.ts';
import { handoverText, writeHandover } from '../call/handover.ts';
import type { Standing } from '../call/step.ts';
import type { TurnDone } from '../call/turn.ts';
import type { Question } from '../flow/compiled.ts';

export function showQuestion(standing: Standing): string {
  const { question, again } = standing;
  if (question === null) return '';
  const asked = again ? `(once more, in other words) ${question.spoken}` : question.words;
  const answers = question.answers.map(({ label }, at) => `  ${at + 1} ${label}`);
  return ['', `[${question.id}] ${asked}`, ...answers].join('\n');
}

export function showWhy(question: Question): string {
  return `Why: ${question.why}\nIf not known: ${question.unsureMeans}`;
}

export function showOutcome({ standing, runner }: TurnDone): string {
  const { flow } = runner.compiled;
  const { assessment, context } = standing;
  const { outcome } = assessment;
  const [time] = context.times;
  const aftercare = aftercareNow(flow, standing).map(
    ({ kind, say, asked }) => `  ${asked ? '*' : '-'} ${kind}: ${say}`,
  );
  const reasons = assessment.reasons.map(
    ({ text, source, points }) => `  - ${text}${points > 0 ? ` (${points})` : ''} [${source}]`,
  );
  return [
    '',
    `OUTCOME: ${outcome.outcome}, ${outcome.emergency ? 'emergency: ring the emergency number now' : outcome.within}`,
    `Do: ${assessment.act}${assessment.seenAt === null ? '' : ` (${assessment.seenAt})`}`,
    ...section('Because', reasons),
    ...section(
      'Say to the caller',
      outcomeWords(flow, standing).map((words) => `  ${words}`),
    ),
    ...(outcome.outcome === 'urgent-escalation' ? [] : section('Aftercare today', aftercare)),
    ...section('Usual today', time === undefined ? [] : normalNow(flow, time).map((words) => `  ${words}`)),
    ...section('Safety-net', [`  ${safetyNet(flow, standing)}`]),
    ...section('Handover', [handoverText(writeHandover(flow, standing, { patient: null, operation: null }))]),
    flow.words.caution,
    flow.words.reachClinician,
  ].join('\n');
}

function section(title: string, lines: readonly string[]): readonly string[] {
  return lines.length === 0 ? [] : ['', `${title}:`, ...lines];
}
