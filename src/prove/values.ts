/** The values that matter of one finding: one of each kind that no test tells apart, and which of two is the worse. */
import { UNSURE, type FindingSpec, type FindingValue, type Test } from '../clinical/finding.ts';
import { testHolds } from '../clinical/condition.ts';

/** A pair of values that the vocabulary orders, the more reassuring first. */
export interface WorsePair {
  readonly better: FindingValue;
  readonly worse: FindingValue;
}

const ROUNDING = 1e-6;

/** How many different values the finding can take on its grid, without `unsure` and without not reached. */
export function countValues(spec: FindingSpec): number {
  if (spec.kind !== 'number') return spec.values.length;
  const { low, high } = limits(spec, []);
  return Math.floor((high - low) / spec.step + ROUNDING) + 1;
}

/** Every number that the finding can take, rising. */
export function gridOf(spec: FindingSpec): readonly number[] {
  const { low } = limits(spec, []);
  return Array.from({ length: countValues(spec) }, (_, at) => gridValue(spec, low, at));
}

/**
 * One value of each class that these tests tell apart, `unsure` last. Numbers stand in rising order and each run of
 * the grid that reads alike has its own, the one nearest to normal.
 */
export function distinctValues(spec: FindingSpec, tests: readonly Test[]): readonly FindingValue[] {
  const values = spec.kind === 'number' ? numberRuns(spec, tests) : distinctWords(spec, tests);
  return [...values, UNSURE];
}

function distinctWords(spec: FindingSpec, tests: readonly Test[]): readonly FindingValue[] {
  const classes = new Map<string, FindingValue>();
  for (const value of [spec.normal, ...spec.values]) {
    const signature = signatureOf(value, tests);
    if (!classes.has(signature)) classes.set(signature, value);
  }
  return [...classes.values()];
}

function numberRuns(spec: FindingSpec, tests: readonly Test[]): readonly number[] {
  const normal = Number(spec.normal);
  const runs: { signature: string; shown: number }[] = [];
  for (const value of cutPoints(spec, tests)) {
    const signature = signatureOf(value, tests);
    const last = runs.at(-1);
    if (last?.signature !== signature) runs.push({ signature, shown: value });
    else if (value <= normal) last.shown = value;
  }
  return runs.map(({ shown }) => shown);
}

/** The borders of the grid, normal, and both sides of every border that a test draws. */
function cutPoints(spec: FindingSpec, tests: readonly Test[]): readonly number[] {
  const borders = tests.flatMap((test) => {
    if ('in' in test) return test.in.filter((value) => typeof value === 'number');
    return 'atLeast' in test ? [test.atLeast] : [test.atMost];
  });
  const { low, high } = limits(spec, borders);
  const onGrid = borders.flatMap((border) => {
    const below = Math.floor((border - low) / spec.step + ROUNDING);
    return [below - 1, below, below + 1].map((at) => gridValue(spec, low, at));
  });
  const points = [low, high, Number(spec.normal), ...onGrid];
  return [...new Set(points)].filter((value) => value >= low && value <= high).sort((a, b) => a - b);
}

function limits(spec: FindingSpec, borders: readonly number[]): { low: number; high: number } {
  const known = [...borders, Number(spec.normal)];
  return {
    low: spec.min ?? Math.min(...known) - spec.step,
    high: spec.max ?? Math.max(...known) + spec.step,
  };
}

function gridValue(spec: FindingSpec, low: number, at: number): number {
  const digits = String(spec.step).split('.')[1]?.length ?? 0;
  return Number((low + at * spec.step).toFixed(digits));
}

function signatureOf(value: FindingValue, tests: readonly Test[]): string {
  let signature = '';
  for (const test of tests) signature += testHolds(test, { [test.finding]: value }) ? '1' : '0';
  return signature;
}

/**
 * Neighbouring pairs of the order in which the finding gets worse. Neighbours are enough: what never lowers from each
 * value to the next never lowers over any distance. Empty where neither way is worse.
 */
export function worsePairs(spec: FindingSpec, values: readonly FindingValue[]): readonly WorsePair[] {
  return chains(spec, values).flatMap((chain) =>
    chain.slice(1).map((worse, at) => ({ better: chain[at] ?? worse, worse })),
  );
}

function chains(spec: FindingSpec, values: readonly FindingValue[]): readonly (readonly FindingValue[])[] {
  if (spec.order !== null) return spec.order;
  const numbers = values.filter((value) => typeof value === 'number');
  const normal = Number(spec.normal);
  switch (spec.worse) {
    case 'neither':
      return [];
    case 'yes':
      return [['no', 'yes']];
    case 'no':
      return [['yes', 'no']];
    case 'later':
      return [spec.values];
    case 'up':
      return spec.kind === 'number' ? [numbers] : [spec.values];
    case 'down':
      return spec.kind === 'number' ? [numbers.toReversed()] : [spec.values.toReversed()];
    case 'away':
      return [
        numbers.filter((value) => value >= normal),
        numbers.filter((value) => value <= normal).toReversed(),
      ];
  }
}
