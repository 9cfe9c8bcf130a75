/** Findings and their values in the words of the call's own script. */
import {
  IMMEDIATE_DANGER,
  UNSURE,
  type FindingId,
  type FindingSpec,
  type FindingValue,
} from '../../clinical/finding.ts';
import type { Runner } from '../../call/step.ts';
import type { Option, QuestionShape } from '../contract/call-view.ts';

export type Flow = Runner['compiled']['flow'];
export type Question = Flow['questions'][number];

/** The answers that a finding takes, as its own question words them; numbers take none. */
export function optionsOf(flow: Flow, spec: FindingSpec): readonly Option[] {
  const own = flow.questions.find(({ kind, findings }) => kind === 'finding' && findings[0] === spec.id);
  if (spec.kind === 'number') return [{ value: UNSURE, label: 'Not measured' }];
  if (own !== undefined) return own.answers;
  const values = spec.kind === 'yes-no' ? ['yes', 'no'] : spec.values;
  return [...values, UNSURE].map((value) => ({ value, label: plain(value) }));
}

/** `one-sided` reads "One sided"; what nobody knows reads "Not known". */
function plain(value: string): string {
  if (value === UNSURE) return 'Not known';
  const text = value.replaceAll('-', ' ');
  return `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;
}

export function labelOf(flow: Flow, finding: FindingId, value: FindingValue): string {
  const spec = flow.findings[finding];
  if (spec === undefined) return String(value);
  if (typeof value === 'number') return `${value} ${unitText(spec.unit)}`.trim();
  return optionsOf(flow, spec).find((option) => option.value === value)?.label ?? plain(value);
}

export function numberOf(spec: FindingSpec | undefined): QuestionShape['number'] {
  if (spec?.kind !== 'number') return null;
  return {
    unit: spec.unit === null ? null : unitText(spec.unit),
    min: spec.min,
    max: spec.max,
    step: spec.step,
  };
}

const UNITS: Readonly<Record<string, string>> = {
  degC: '°C',
  '/min': 'a minute',
  '0-10': 'out of 10',
  d: 'days',
  h: 'hours',
  min: 'minutes',
  g: 'grams',
};

function unitText(unit: string | null): string {
  return unit === null ? '' : (UNITS[unit] ?? unit);
}

/** Every finding of the script, in the order in which a call would come to it; what nobody asks comes last. */
export function inAskingOrder(flow: Flow): readonly FindingSpec[] {
  const asked = flow.questions.flatMap(({ findings }) => findings);
  const ids = new Set([...asked, ...Object.keys(flow.findings)]);
  return [...ids].flatMap((id) => flow.findings[id] ?? []);
}

const dangers = new WeakMap<Flow, readonly FindingSpec[]>();

/** The immediate dangers of a script, in asking order; picked out once. */
export function dangersOf(flow: Flow): readonly FindingSpec[] {
  const known = dangers.get(flow) ?? inAskingOrder(flow).filter(({ group }) => group === IMMEDIATE_DANGER);
  dangers.set(flow, known);
  return known;
}
