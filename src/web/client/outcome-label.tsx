/** How the page names an outcome, and how it marks it: by words and shape, never by colour alone. */
import type { OutcomeShape } from '../../desk/contract/common.ts';
import { OUTCOMES } from '../words.ts';

export function outcomeLabel(outcome: OutcomeShape): string {
  return OUTCOMES[outcomeRank(outcome)]?.label ?? outcome.outcome;
}

/** Position in the order of outcomes; higher is worse. */
export function outcomeRank({ outcome, within, emergency }: OutcomeShape): number {
  return OUTCOMES.findIndex(
    (one) => one.outcome === outcome && one.within === within && one.emergency === emergency,
  );
}

export type OutcomeKind = 'advice' | 'review' | 'urgent' | 'emergency';

export function outcomeKind(outcome: OutcomeShape): OutcomeKind {
  if (outcome.emergency) return 'emergency';
  if (outcome.outcome === 'urgent-escalation') return 'urgent';
  return outcome.outcome === 'arrange-review' ? 'review' : 'advice';
}

export function OutcomeBadge({ outcome }: { readonly outcome: OutcomeShape }) {
  return <span className={`badge ${outcomeKind(outcome)}`}>{outcomeLabel(outcome)}</span>;
}
