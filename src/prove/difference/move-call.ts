/** Writes the shortest example of a move as a demo call that can be run again on the new flow. */
import { outcomeText } from '../phrases.ts';
import { timeText } from '../times.ts';
import type { Move } from './difference.ts';

/** YAML text; what is not among its facts is answered with its normal value. */
export function moveCallText(procedures: readonly string[], { from, to, example }: Move): string {
  const { at, findings } = example;
  const [procedure = 'general', ...also] = procedures;
  const facts = Object.entries(findings).map(([id, value]) => `  ${id}: ${String(value)}`);
  return [
    `# Comes to ${outcomeText(to)} since the edit, to ${outcomeText(from)} before.`,
    `title: From ${outcomeText(from)} to ${outcomeText(to)} on ${timeText(at)}`,
    `procedure: ${procedure}`,
    ...(also.length === 0 ? [] : [`also: [${also.join(', ')}]`]),
    ...(at.day === null ? [] : [`day: ${String(at.day)}`]),
    ...(at.hours === null ? [] : [`hoursSince: ${String(at.hours)}`]),
    ...(facts.length === 0 ? ['facts: {}'] : ['facts:', ...facts]),
    'expect:',
    `  outcome: ${to.outcome}`,
    `  within: ${to.within}`,
    `  emergency: ${String(to.emergency)}`,
    '',
  ].join('\n');
}
