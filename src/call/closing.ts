/** What a call still needs before it may be closed. */
import { rank, type Outcome } from '../clinical/outcome.ts';
import type { CallContext } from './context.ts';

export type ClosingNeed = 'told' | 'accepted' | 'understood' | 'call-back-number' | 'lowering-confirmed';

/**
 * An urgent call closes only with the clinician who accepted; every other call needs its outcome told and understood.
 * A call that was cut off closes without the caller's understanding: it is rung back.
 */
export function whatClosingNeeds(
  outcome: Outcome,
  context: CallContext,
  understood: boolean,
): readonly ClosingNeed[] {
  const needs: ClosingNeed[] = [];
  const urgent = outcome.outcome === 'urgent-escalation';
  const cutOff = context.ending === 'cut-off';
  if (urgent && !isAccepted(context, outcome)) needs.push('accepted');
  if (!cutOff && !isTold(context, outcome)) needs.push('told');
  if (!cutOff && !urgent && !understood) needs.push('understood');
  if ((context.facts['call-back-number'] ?? '') === '') needs.push('call-back-number');
  if (context.loweringAsked !== null) needs.push('lowering-confirmed');
  return needs;
}

/** Whether a clinician has accepted this outcome; one that has risen since was not accepted. */
export function isAccepted(context: CallContext, outcome: Outcome): boolean {
  return context.accepted !== null && rank(outcome) <= rank(context.accepted.to);
}

/** Whether that clinician said so in person, and not only whoever rang them. */
export function isConfirmed(context: CallContext, outcome: Outcome): boolean {
  return isAccepted(context, outcome) && context.accepted?.reported !== true;
}

function isTold(context: CallContext, outcome: Outcome): boolean {
  return context.told !== null && rank(outcome) <= rank(context.told);
}
