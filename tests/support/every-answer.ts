/** Goes through every combination of answers to a few findings: each value on the grid, unsure, and not reached. */
import { UNSURE, type FindingSpec, type FindingValue, type Findings } from '../../src/clinical/finding.ts';

export interface Answers {
  readonly specs: readonly FindingSpec[];
  /** By finding, its answers; null is not reached. */
  readonly values: readonly (readonly (FindingValue | null)[])[];
  readonly count: number;
}

export function everyAnswer(specs: readonly FindingSpec[]): Answers {
  const values = specs.map((spec) => [null, ...valuesOf(spec), UNSURE]);
  return { specs, values, count: values.reduce((product, { length }) => product * length, 1) };
}

export function valuesOf(spec: FindingSpec): readonly FindingValue[] {
  if (spec.kind !== 'number') return spec.values;
  const { min, max, step } = spec;
  if (min === null || max === null) throw new Error(`${spec.id} has no limits`);
  const values: number[] = [];
  for (let value = min; value <= max; value += step) values.push(value);
  return values;
}

/** The findings of the combination with this number. */
export function combination({ specs, values }: Answers, number: number): Findings {
  const findings: Record<string, FindingValue> = {};
  let rest = number;
  for (const [at, spec] of specs.entries()) {
    const own = values[at] ?? [];
    const value = own[rest % own.length] ?? null;
    rest = Math.floor(rest / own.length);
    if (value !== null) findings[spec.id] = value;
  }
  return findings;
}

/** The number of the same combination with one finding answered otherwise. */
export function otherwise(answers: Answers, number: number, at: number, value: FindingValue): number {
  let weight = 1;
  for (const own of answers.values.slice(0, at)) weight *= own.length;
  const own = answers.values[at] ?? [];
  const before = Math.floor(number / weight) % own.length;
  return number + (own.indexOf(value) - before) * weight;
}
