/** Gathers everything that the words state, deny or leave open about each finding, with what decided its scope. */
import {
  IMMEDIATE_DANGER,
  UNSURE,
  type FindingId,
  type FindingValue,
  type Vocabulary,
} from '../clinical/finding.ts';
import type { Hit } from './match-phrases.ts';
import type { Scope } from './scope.ts';
import { isDanger } from './read-aloud-policy.ts';

/** stated: said of the patient now; denied: said not to be so; passed: it was so and is over, no time within a day. */
export type Sort = 'stated' | 'denied' | 'unsure' | 'passed';

export interface Candidate {
  readonly finding: FindingId;
  readonly value: FindingValue;
  readonly sort: Sort;
  readonly rank: number;
  readonly hedged: boolean;
  readonly start: number;
  readonly end: number;
  readonly because: readonly string[];
  /** The phrase as it stands in the lexicon; empty for a bare answer. */
  readonly says: string;
}

/** Stroke signs, collapse, a fit and loss of sight count as yes even when over. */
const LASTING: ReadonlySet<FindingId> = new Set(['stroke-signs', 'collapse', 'fit', 'vision-change']);
/** Findings about the past or the circumstances: being past does not make them untrue. */
const OF_THE_PAST: ReadonlySet<FindingId> = new Set([
  'previous-clot',
  'active-cancer',
  'weak-immunity',
  'bed-for-3-days',
  'fall-or-knock',
  'new-medicine',
  'missed-doses',
  'fever-medicine-6h',
  'blood-thinner',
  'dressing-or-tape-off',
  'drain-pulled-out',
  'nausea',
  'dressing-soaked',
  'numb-tongue-or-ringing-ears',
]);
/** What is said of other people or of what might be: who rings and what they ask are neither. */
export const CALLER_GROUPS: ReadonlySet<string> = new Set(['caller', 'everyday-questions']);

export interface Scoped {
  readonly hit: Hit;
  readonly scope: Scope;
}

/** Null: the words say nothing about this patient now. */
export function candidateOf(vocabulary: Vocabulary, { hit, scope }: Scoped): Candidate | null {
  const spec = vocabulary.findings[hit.phrase.finding];
  if (spec === undefined) return null;
  const { start, end, phrase } = hit;
  const at = {
    finding: spec.id,
    rank: phrase.rank,
    hedged: scope.doubtful,
    start,
    end,
    because: scope.because,
    says: phrase.says,
  };
  const stated = (value: FindingValue | null): Candidate | null =>
    value === null ? null : { ...at, value, sort: value === UNSURE ? 'unsure' : 'stated' };
  const denied: Candidate | null =
    phrase.denied === null ? null : { ...at, value: phrase.denied, sort: 'denied', rank: -1 };
  if (phrase.deniedBy === 'nothing') return stated(phrase.value);
  if (scope.hypothetical && spec.id !== 'caller-is' && spec.group === 'caller') return null;
  if (CALLER_GROUPS.has(spec.group)) return scope.negated ? denied : stated(phrase.value);
  if (scope.other || scope.hypothetical) return null;
  const isOver = scope.resolved || scope.historical;
  if (isDanger(spec) && (isOver || (scope.dated && !scope.negated))) {
    if (scope.historical && !scope.recent) return null;
    if (LASTING.has(spec.id) && !scope.negated) return stated(phrase.value);
    if (scope.recent && !scope.negated) return stated(phrase.value);
    if (spec.id === 'self-harm-thoughts' && scope.negated) return denied;
    return { ...at, value: UNSURE, sort: 'passed' };
  }
  if (scope.negated) return denied;
  if (isOver && !OF_THE_PAST.has(spec.id)) return null;
  if (scope.doubtful && spec.group === IMMEDIATE_DANGER) return { ...at, value: UNSURE, sort: 'unsure' };
  return stated(phrase.value);
}
