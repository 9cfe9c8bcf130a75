/** Rules that hold on every flow whatever its files say: what "I don't know" means, and what a covered wound means. */
import { canonicalForm } from '../basics/json.ts';
import { IMMEDIATE_DANGER, UNSURE, type FindingId, type FindingSpec } from '../clinical/finding.ts';
import { findingsIn } from '../clinical/condition.ts';
import { SAME_DAY, WITHIN_THE_HOUR } from '../clinical/outcome.ts';
import { ALL_DAYS, LAST_DAY, type Window } from '../clinical/window.ts';
import type { Rule } from './compiled.ts';
import type { WordsFile } from './schema.ts';

/** Besides every immediate danger, "I don't know" is urgent for exactly these. */
export const UNSURE_IS_URGENT: readonly FindingId[] = [
  'vision-change',
  'eye-pain-severe',
  'eye-bulging',
  'neck-tight-or-voice-change',
  'nipple-colour',
  'skin-colour',
  'fingers-pale-or-blue',
  'below-dressing-blue-or-numb',
  'one-leg-swollen',
  'calf-pain',
  'belly-rigid-swollen',
];

type Words = WordsFile['law'];

export function isUnsureUrgent(spec: FindingSpec): boolean {
  return spec.group === IMMEDIATE_DANGER || UNSURE_IS_URGENT.includes(spec.id);
}

/** The rules that the law adds to a flow with these findings and rules. */
export function lawRules(
  findings: readonly FindingSpec[],
  rules: readonly Rule[],
  words: Words,
): readonly Rule[] {
  const tested = new Set(
    rules.filter(({ effect }) => effect.kind === 'red-flag').flatMap((rule) => findingsIn(rule.if)),
  );
  const standIns = new Set(
    findings.flatMap(({ when }) =>
      (when ?? [])
        .flat()
        .flatMap((test) =>
          'in' in test && test.in.includes(UNSURE) && test.in.length === 1 ? [test.finding] : [],
        ),
    ),
  );
  const concerns = alarmConcerns(rules);
  return findings.flatMap((spec): readonly Rule[] => {
    const concern = concerns.get(spec.id) ?? null;
    if (isUnsureUrgent(spec)) return [unsureRule(spec, { isUrgent: true, concern, words })];
    // A number nobody can measure goes to its stand-in; an optional one was not measured.
    if (!tested.has(spec.id) || standIns.has(spec.id) || spec.optional) return [];
    return [unsureRule(spec, { isUrgent: false, concern, words })];
  });
}

/** By finding, the concern of the first red flag that tests it. */
function alarmConcerns(rules: readonly Rule[]): ReadonlyMap<FindingId, string | null> {
  const concerns = new Map<FindingId, string | null>();
  for (const { effect, if: condition } of rules) {
    if (effect.kind !== 'red-flag') continue;
    for (const id of findingsIn(condition)) if (!concerns.has(id)) concerns.set(id, effect.concern);
  }
  return concerns;
}

interface Unsure {
  readonly isUrgent: boolean;
  readonly concern: string | null;
  readonly words: Words;
}

const unsureKnown = new WeakMap<FindingSpec, (Unsure & { readonly rule: Rule })[]>();

/** Made once for a finding of the vocabulary, so that all flows hold the same rule. */
function unsureRule(spec: FindingSpec, unsure: Unsure): Rule {
  const { isUrgent, concern, words } = unsure;
  const known = unsureKnown.get(spec) ?? [];
  const before = known.find(
    (one) => one.isUrgent === isUrgent && one.concern === concern && one.words === words,
  );
  if (before !== undefined) return before.rule;
  const make = isUrgent ? unsureUrgent : unsureSameDay;
  const rule = canonicalForm(make(spec, concern, words));
  unsureKnown.set(spec, [...known, { ...unsure, rule }]);
  return rule;
}

function unsureUrgent(spec: FindingSpec, concern: string | null, words: Words): Rule {
  return {
    id: `unsure-${spec.id}`,
    topic: 'law',
    if: [[{ finding: spec.id, in: [UNSURE] }]],
    window: ALL_DAYS,
    effect: {
      kind: 'red-flag',
      concern: concern ?? 'caller-safety',
      to: WITHIN_THE_HOUR,
      seenAt: null,
      untilSeen: words['until-seen'],
      harmlessOutside: null,
    },
    because: words['unsure-urgent'].replaceAll('{finding}', spec.is),
    source: words.source,
  };
}

function unsureSameDay(spec: FindingSpec, concern: string | null, words: Words): Rule {
  return {
    id: `unsure-${spec.id}`,
    topic: 'law',
    if: [[{ finding: spec.id, in: [UNSURE] }]],
    window: ALL_DAYS,
    effect: { kind: 'at-least', concern, to: SAME_DAY },
    because: words['unsure-same-day'].replaceAll('{finding}', spec.is),
    source: words.source,
  };
}

/** A wound that is still hidden on days when the plan has the dressing off is looked at the same day. */
export function stillCoveredRules(covered: readonly [number, number] | null, words: Words): readonly Rule[] {
  const [from, to] = covered ?? [0, -1];
  const outside: Window[] = [
    ...(from > 0 ? [{ days: [0, from - 1] as const, hours: null }] : []),
    ...(to < LAST_DAY ? [{ days: [to + 1, LAST_DAY] as const, hours: null }] : []),
  ];
  return outside.map((window) => ({
    id: `still-covered-from-${window.days[0]}`,
    topic: 'law',
    if: [[{ finding: 'site-covered', in: ['yes'] }]],
    window,
    effect: { kind: 'at-least', concern: 'healing', to: SAME_DAY },
    because: words['still-covered'],
    source: words.source,
  }));
}
