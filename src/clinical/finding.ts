/** What a finding is: an id of the vocabulary, its kind, its values, and which way is worse. */

export type FindingId = string;
export type ProcedureId = string;

/** `yes`/`no`, one of a choice's values, a number in the finding's unit, or `unsure`. Absent means not reached. */
export type FindingValue = string | number;

export const UNSURE = 'unsure';

/** What is known in a call. A finding that is not in it was not reached; it is never read as normal. */
export type Findings = Readonly<Record<FindingId, FindingValue>>;

/** One test of a condition: `in` may list `unsure`. On a finding that was not reached every test is false. */
export type Test =
  | { readonly finding: FindingId; readonly in: readonly FindingValue[] }
  | { readonly finding: FindingId; readonly atLeast: number }
  | { readonly finding: FindingId; readonly atMost: number };

/** Holds when every test of one of the rows holds. An empty list never holds. */
export type Condition = readonly (readonly Test[])[];

export interface FindingSpec {
  readonly id: FindingId;
  readonly group: string;
  readonly kind: 'yes-no' | 'choice' | 'number';
  /** What exactly is meant, in clinical words. */
  readonly is: string;
  /** yes-no: no, yes; choice: most reassuring first unless `worse` is neither; number: empty. */
  readonly values: readonly string[];
  readonly unit: string | null;
  /** Numbers outside min..max are refused and asked again. */
  readonly min: number | null;
  readonly max: number | null;
  /** The grid on which numbers are counted. */
  readonly step: number;
  /** The reassuring value: what a demo call answers when it lists nothing, and what a group's "no" settles. */
  readonly normal: FindingValue;
  readonly worse: 'up' | 'down' | 'away' | 'yes' | 'no' | 'later' | 'neither';
  /** Chains of values, each from better to worse, where the list is no single order. */
  readonly order: readonly (readonly string[])[] | null;
  /** Measured only where the caller has the means; left out means not measured. */
  readonly optional: boolean;
  /** The procedures it belongs to; null means all. */
  readonly only: readonly ProcedureId[] | null;
  /** When it is asked; it counts whenever it is known. */
  readonly when: Condition | null;
}

export interface Vocabulary {
  readonly findings: Readonly<Record<FindingId, FindingSpec>>;
  /** In file order. */
  readonly ids: readonly FindingId[];
  readonly procedures: readonly ProcedureId[];
}

export const IMMEDIATE_DANGER = 'immediate-danger';

/** True when the value is one that this finding can take; numbers must lie within min..max. */
export function isValueOf(spec: FindingSpec, value: unknown): value is FindingValue {
  if (value === UNSURE) return true;
  if (spec.kind !== 'number') return typeof value === 'string' && spec.values.includes(value);
  if (typeof value !== 'number' || !Number.isFinite(value)) return false;
  return value >= (spec.min ?? -Infinity) && value <= (spec.max ?? Infinity);
}

/** One sentence fragment: what this finding accepts. */
export function acceptedValues(spec: FindingSpec): string {
  if (spec.kind !== 'number') return [...spec.values, UNSURE].join(', ');
  return `a number from ${spec.min ?? '-'} to ${spec.max ?? '-'}${spec.unit === null ? '' : ` ${spec.unit}`}, or ${UNSURE}`;
}

/**
 * A number as it counts: on the finding's grid, rounded to the worrying side, so that no value falls between two
 * bands. Anything that is no number stays as it is.
 */
export function onGrid(spec: FindingSpec, value: FindingValue): FindingValue {
  if (spec.kind !== 'number' || typeof value !== 'number') return value;
  const steps = value / spec.step;
  const up = spec.worse === 'up' || (spec.worse === 'away' && value >= Number(spec.normal));
  const whole =
    Math.abs(steps - Math.round(steps)) < 1e-6
      ? Math.round(steps)
      : up
        ? Math.ceil(steps)
        : Math.floor(steps);
  return Number((whole * spec.step).toFixed(6));
}
