/** Where a played call falls short of what its demo call expects. */
import { OUTCOME_ORDER } from '../clinical/outcome.ts';
import type { DemoCall } from './demo-call.ts';
import type { Played } from './play-call.ts';

/** What of the expectation does not hold; empty when all does or nothing was expected. */
export function shortfalls(call: DemoCall, { done }: Played): readonly string[] {
  const { expect } = call;
  if (expect === undefined) return [];
  const { outcome, within, emergency } = done.standing.assessment.outcome;
  const at = OUTCOME_ORDER.indexOf(outcome);
  const missed: string[] = [];
  if (expect.outcome !== undefined && expect.outcome !== outcome)
    missed.push(`outcome ${outcome}, not ${expect.outcome}`);
  if (expect.min !== undefined && at < OUTCOME_ORDER.indexOf(expect.min))
    missed.push(`outcome ${outcome}, below ${expect.min}`);
  if (expect.max !== undefined && at > OUTCOME_ORDER.indexOf(expect.max))
    missed.push(`outcome ${outcome}, above ${expect.max}`);
  if (expect.within !== undefined && expect.within !== within)
    missed.push(`within ${within}, not ${expect.within}`);
  if (expect.emergency !== undefined && expect.emergency !== emergency)
    missed.push(`emergency ${emergency}, not ${expect.emergency}`);
  return missed;
}
