/** How a proof speaks of answers, moments and outcomes. */
import type { Findings } from '../clinical/finding.ts';
import type { Flow } from '../flow/compiled.ts';
import { LADDER, type Outcome } from '../clinical/outcome.ts';

export function outcomeText(outcome: Outcome): string {
  if (outcome.emergency) return 'an emergency';
  return outcome.within === 'none' ? outcome.outcome : `${outcome.outcome}, ${outcome.within}`;
}

export function outcomeOfRank(rank: number): Outcome {
  const outcome = LADDER[rank];
  if (outcome === undefined) throw new Error(`No outcome has the rank ${String(rank)}`);
  return outcome;
}

export function rankText(rank: number): string {
  return outcomeText(outcomeOfRank(rank));
}

/** `calf-pain=yes and temperature=38.2`, or `nothing`. */
export function findingsText(findings: Findings): string {
  const parts = Object.entries(findings).map(([id, value]) => `${id}=${String(value)}`);
  return parts.length === 0 ? 'nothing' : parts.join(' and ');
}

/** `breast-lift`, or `breast-lift (Dr A)` where a surgeon's own rules are in it. */
export function nameOf({ id, surgeon }: Flow): string {
  return surgeon === null ? id : `${id} (${surgeon})`;
}
