/** How the page names an outcome, and how it marks it: by words and shape, never by colour alone. */
import type { OutcomeShape } from '../../desk/contract/common.ts';
import { OUTCOMES } from '../words.ts';
import { el } from './element.ts';

export function outcomeLabel(outcome: OutcomeShape): string {
  const found = OUTCOMES.find(
    (one) =>
      one.outcome === outcome.outcome && one.within === outcome.within && one.emergency === outcome.emergency,
  );
  return found?.label ?? outcome.outcome;
}

/** Position in the order of outcomes; higher is worse. */
export function outcomeRank(outcome: OutcomeShape): number {
  return OUTCOMES.findIndex((one) => outcomeLabel(outcome) === one.label);
}

export function outcomeKind(outcome: OutcomeShape): 'advice' | 'review' | 'urgent' | 'emergency' {
  if (outcome.emergency) return 'emergency';
  if (outcome.outcome === 'urgent-escalation') return 'urgent';
  return outcome.outcome === 'arrange-review' ? 'review' : 'advice';
}

export function outcomeBadge(outcome: OutcomeShape): HTMLElement {
  return el('span', { class: `badge ${outcomeKind(outcome)}` }, outcomeLabel(outcome));
}
