/** Settles what was gathered about each finding into one value: the worst stated, else open, else passed, else denied. */
import {
  UNSURE,
  type FindingId,
  type FindingSpec,
  type FindingValue,
  type Vocabulary,
} from '../clinical/finding.ts';
import type { Candidate } from './gather.ts';
import { isDanger, isReassuring } from './read-aloud-policy.ts';

export interface Settled {
  readonly id: FindingId;
  readonly spec: FindingSpec;
  /** Null: it was said to have passed, and has to be asked. */
  readonly value: FindingValue | null;
  readonly hedged: boolean;
  readonly contradicted: boolean;
  readonly behind: readonly Candidate[];
}

export function settleAll(
  vocabulary: Vocabulary,
  all: readonly Candidate[],
  corrections: readonly number[],
): readonly Settled[] {
  return [...new Set(all.map(({ finding }) => finding))].flatMap((id) => {
    const spec = vocabulary.findings[id];
    return spec === undefined
      ? []
      : [
          settleOne(
            spec,
            all.filter(({ finding }) => finding === id),
            corrections,
          ),
        ];
  });
}

/** The worst that was stated; else what was left open, else what has passed, else what was denied. */
function settleOne(spec: FindingSpec, of: readonly Candidate[], corrections: readonly number[]): Settled {
  const kept = isDanger(spec) ? of : lastSaid(of, corrections);
  const stated = kept.filter(({ sort }) => sort === 'stated');
  const worst = stated.reduce<Candidate | null>(
    (one, next) => (one === null || isWorse(spec, next, one) ? next : one),
    null,
  );
  const of_ = (sort: Candidate['sort']): readonly Candidate[] => kept.filter((one) => one.sort === sort);
  const base = { id: spec.id, spec };
  const denied = of_('denied');
  if (worst !== null) {
    const behind = stated.filter(({ value }) => value === worst.value);
    const taken = denied.some(
      ({ start }) => start > worst.start && corrections.some((at) => at > worst.start && at <= start),
    );
    const contradicted = isDanger(spec) && taken;
    return { ...base, value: worst.value, hedged: worst.hedged, contradicted, behind };
  }
  if (of_('unsure').length > 0) {
    return { ...base, value: UNSURE, hedged: false, contradicted: false, behind: of_('unsure') };
  }
  if (of_('passed').length > 0) {
    return { ...base, value: UNSURE, hedged: false, contradicted: true, behind: of_('passed') };
  }
  const value = denied[0]?.value ?? UNSURE;
  return { ...base, value, hedged: denied.some(({ hedged }) => hedged), contradicted: false, behind: denied };
}

/** What was said after "no, wait" replaces what was said before it, of the same finding. */
function lastSaid(of: readonly Candidate[], corrections: readonly number[]): readonly Candidate[] {
  const last = corrections.at(-1);
  if (last === undefined) return of;
  const after = of.filter(({ start }) => start > last);
  return after.length > 0 ? after : of;
}

function isWorse(spec: FindingSpec, one: Candidate, than: Candidate): boolean {
  if (typeof one.value === 'number' && typeof than.value === 'number' && typeof spec.normal === 'number') {
    if (spec.worse === 'down') return one.value < than.value;
    if (spec.worse === 'away') return Math.abs(one.value - spec.normal) > Math.abs(than.value - spec.normal);
    return one.value > than.value;
  }
  if (one.value === UNSURE) return isReassuring(spec, than.value);
  if (than.value === UNSURE) return !isReassuring(spec, one.value);
  return one.rank > than.rank;
}
