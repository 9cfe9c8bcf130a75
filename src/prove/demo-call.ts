/** Writes a counterexample as a demo call that can be run again. */
import { LADDER, rank, type Outcome } from '../clinical/outcome.ts';
import type { Counterexample, PropertyId } from './report.ts';
import { PROPERTIES } from './report.ts';

export interface ShownCall {
  readonly property: PropertyId;
  readonly procedures: readonly string[];
  readonly counterexample: Counterexample;
}

/** YAML text; what is not among its facts is answered with its normal value. */
export function demoCallText({ property, procedures, counterexample }: ShownCall): string {
  const { says, at, findings, atLeast } = counterexample;
  const [procedure = 'general', ...also] = procedures;
  const facts = Object.entries(findings).map(([id, value]) => `  ${id}: ${String(value)}`);
  return [
    `# Shows that this does not hold: ${PROPERTIES[property]}.`,
    `title: ${quoted(says)}`,
    `procedure: ${procedure}`,
    ...(also.length === 0 ? [] : [`also: [${also.join(', ')}]`]),
    ...(at.day === null ? [] : [`day: ${String(at.day)}`]),
    ...(at.hours === null ? [] : [`hoursSince: ${String(at.hours)}`]),
    ...(facts.length === 0 ? ['facts: {}'] : ['facts:', ...facts]),
    ...(atLeast === null ? [] : expectation(atLeast)),
    '',
  ].join('\n');
}

/** A bound names an outcome; where only the time falls short, the whole outcome is expected. */
function expectation(least: Outcome): readonly string[] {
  const mildest = LADDER.find(({ outcome }) => outcome === least.outcome);
  if (mildest !== undefined && rank(mildest) === rank(least)) return ['expect:', `  min: ${least.outcome}`];
  return [
    'expect:',
    `  outcome: ${least.outcome}`,
    `  within: ${least.within}`,
    `  emergency: ${String(least.emergency)}`,
  ];
}

function quoted(text: string): string {
  return `'${text.replaceAll("'", "''")}'`;
}
