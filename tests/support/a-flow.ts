/** Builds small flows for tests: the shape of a compiled flow with invented findings, questions and rules. */
import type { Condition, FindingSpec, FindingValue } from '../../src/clinical/finding.ts';
import { EMERGENCY, WITHIN_THE_HOUR, type Outcome } from '../../src/clinical/outcome.ts';
import { ALL_DAYS, type Window } from '../../src/clinical/window.ts';
import { testWords } from './a-flow-words.ts';
import { freezeFlow } from '../../src/flow/compile.ts';
import type {
  CompiledFlow,
  Concern,
  Effect,
  Flow,
  Question,
  Rule,
  Threshold,
  Tier,
} from '../../src/flow/compiled.ts';
import { FLOW_FORMAT } from '../../src/flow/compiled.ts';

export function yesNo(id: string, more: Partial<FindingSpec> = {}): FindingSpec {
  return spec({ id, kind: 'yes-no', values: ['no', 'yes'], normal: 'no', worse: 'yes', ...more });
}

export function choice(id: string, values: readonly string[], more: Partial<FindingSpec> = {}): FindingSpec {
  return spec({ id, kind: 'choice', values, normal: values[0] ?? '', worse: 'later', ...more });
}

export function numeric(id: string, more: Partial<FindingSpec>): FindingSpec {
  return spec({ id, kind: 'number', values: [], normal: more.min ?? 0, worse: 'up', ...more });
}

function spec(
  given: Partial<FindingSpec> & Pick<FindingSpec, 'id' | 'kind' | 'values' | 'normal' | 'worse'>,
): FindingSpec {
  return {
    group: 'probe',
    is: given.id,
    unit: null,
    min: null,
    max: null,
    step: 1,
    order: null,
    optional: false,
    only: null,
    when: null,
    ...given,
  };
}

export function is(finding: string, ...values: readonly FindingValue[]): Condition {
  return [[{ finding, in: values }]];
}

/** All of these conditions of one row each. */
export function allOf(...conditions: readonly Condition[]): Condition {
  return [conditions.flatMap((condition) => condition[0] ?? [])];
}

export function days(from: number, to: number): Window {
  return { days: [from, to], hours: null };
}

function rule(id: string, condition: Condition, rest: { effect: Effect; window?: Window }): Rule {
  const window = rest.window ?? ALL_DAYS;
  return { id, topic: 'probe', if: condition, window, effect: rest.effect, because: id, source: 'invented' };
}

export function redFlag(id: string, condition: Condition, more: Partial<FlagParts> = {}): Rule {
  const effect: Effect = {
    kind: 'red-flag',
    concern: 'first',
    to: more.to ?? WITHIN_THE_HOUR,
    seenAt: null,
    untilSeen: ['Sit up.'],
    harmlessOutside: more.harmlessOutside ?? null,
  };
  return rule(id, condition, { effect, window: more.window ?? ALL_DAYS });
}

interface FlagParts {
  readonly to: Outcome;
  readonly window: Window;
  readonly harmlessOutside: string;
}

export function atLeast(id: string, condition: Condition, to: Outcome, window: Window = ALL_DAYS): Rule {
  return rule(id, condition, { effect: { kind: 'at-least', concern: null, to }, window });
}

export function points(id: string, condition: Condition, given: PointsParts): Rule {
  const effect: Effect = { kind: 'points', concern: given.concern ?? 'first', points: given.points };
  return rule(id, condition, { effect, window: given.window ?? ALL_DAYS });
}

interface PointsParts {
  readonly points: number;
  readonly concern?: string;
  readonly window?: Window;
}

export function concern(
  id: string,
  thresholds: readonly (readonly [number, Outcome, (Condition | null)?])[],
): Concern {
  return {
    id,
    title: id,
    clinicianNeeds: id,
    thresholds: thresholds.map(([at, to, when]): Threshold => ({ points: at, to, when: when ?? null })),
    because: id,
    source: 'invented',
  };
}

export function question(id: string, more: Partial<Question> = {}): Question {
  const tier: Tier = more.tier ?? 'likely';
  return {
    id,
    topic: 'probe',
    tier,
    kind: 'finding',
    findings: [id],
    fact: null,
    words: id,
    spoken: id,
    why: id,
    unsureMeans: id,
    answers: [],
    window: ALL_DAYS,
    when: null,
    skipIf: null,
    ...more,
  };
}

export interface FlowParts {
  readonly findings: readonly FindingSpec[];
  readonly rules: readonly Rule[];
  readonly concerns?: readonly Concern[];
  /** Asked after the screen; left out, each finding has a question of its own. */
  readonly questions?: readonly Question[];
  readonly more?: Partial<Flow>;
}

/** A flow of the procedure `probe` with a danger screen of one group and everything that every flow has to say. */
export function aFlow(parts: FlowParts): CompiledFlow {
  const dangers = ['breathless', 'collapse'];
  const danger = dangers.map((id) => yesNo(id, { group: 'immediate-danger' }));
  const findings = [...danger, ...parts.findings];
  const flow: Flow = {
    format: FLOW_FORMAT,
    id: 'probe',
    title: 'Probe',
    procedures: ['probe'],
    surgeon: null,
    floor: null,
    findings: Object.fromEntries(findings.map((one) => [one.id, one])),
    questions: [
      question('screen', { tier: 'screen', kind: 'group', findings: dangers }),
      ...dangers.map((id) => question(id, { tier: 'screen' })),
      question('call-back-number', { tier: 'caller', kind: 'fact', findings: [], fact: 'call-back-number' }),
      ...(parts.questions ?? parts.findings.map(({ id }) => question(id))),
      question('where-now', { tier: 'handover', kind: 'fact', findings: [], fact: 'where-now' }),
    ],
    rules: [
      ...dangers.map((id) => redFlag(`danger-${id}`, is(id, 'yes'), { to: EMERGENCY })),
      ...dangers.map((id) => redFlag(`unsure-${id}`, is(id, 'unsure'))),
      ...parts.rules,
    ],
    concerns: parts.concerns ?? [],
    aftercare: [],
    safetyNet: [{ topic: 'probe', window: ALL_DAYS, say: 'Worse within hours: ring at once.' }],
    normal: [{ topic: 'probe', window: ALL_DAYS, say: 'Sore.' }],
    words: testWords,
    ...parts.more,
  };
  return freezeFlow(flow);
}
