/** Which of two values of one finding is the worse, by the vocabulary's own order. */
import { UNSURE, type FindingSpec, type FindingValue } from './finding.ts';

/**
 * Whether `b` is at least as bad as `a`. "I don't know" is only ever compared with the normal value, so it never makes
 * a stated worry milder; values that the vocabulary does not order are not at least as bad as each other.
 */
export function isAtLeastAsBad(spec: FindingSpec, a: FindingValue, b: FindingValue): boolean {
  if (a === b) return true;
  if (a === UNSURE) return b !== spec.normal;
  if (b === UNSURE || spec.worse === 'neither') return a === spec.normal;
  return spec.kind === 'number' ? numberIsWorse(spec, Number(a), Number(b)) : choiceIsWorse(spec, a, b);
}

function numberIsWorse(spec: FindingSpec, a: number, b: number): boolean {
  if (spec.worse === 'up') return b >= a;
  if (spec.worse === 'down') return b <= a;
  const normal = Number(spec.normal);
  return a >= normal ? b >= a : b <= a;
}

function choiceIsWorse(spec: FindingSpec, a: FindingValue, b: FindingValue): boolean {
  if (spec.kind === 'yes-no') return b === spec.worse;
  const chains = spec.order ?? [spec.values];
  return chains.some((chain) => {
    const from = chain.indexOf(String(a));
    const to = chain.indexOf(String(b));
    return from >= 0 && to >= from;
  });
}
