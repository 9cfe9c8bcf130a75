/** Whether there are words that the caller has not heard yet. */
import type { CallView } from '../../../desk/contract/call-view.ts';
import { outcomeRank } from '../outcome-label.tsx';

/** Nothing was said to the caller yet, or it has become worse than what was said. */
export function isToBeTold(view: CallView): boolean {
  if (view.result === null || view.at === 'closed') return false;
  return view.told === null || outcomeRank(view.told) < outcomeRank(view.result.outcome);
}
