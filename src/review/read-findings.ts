/** Reads how each finding came to stand as it does, in the order in which the findings were first settled. */
import type { Recorded } from '../call/recorded.ts';
import { written } from './kept.ts';
import type { FindingChange, FindingStands } from './view.ts';

export function readFindings(events: readonly Recorded[]): readonly FindingStands[] {
  const histories = new Map<string, readonly FindingChange[]>();
  for (const event of events) {
    const change = changeOf(event);
    if (change === null) continue;
    histories.set(change.finding, [...(histories.get(change.finding) ?? []), change.change]);
  }
  return [...histories].map(([finding, history]) => standing(finding, history));
}

interface Changed {
  readonly finding: string;
  readonly change: FindingChange;
}

function changeOf(event: Recorded): Changed | null {
  const when = written(event);
  if (event.type === 'finding-settled') {
    const { finding, value, how, question } = event.open;
    return { finding, change: { ...when, kind: 'settled', value, how, question } };
  }
  if (event.type === 'finding-taken-back') {
    const { finding, now } = event.open;
    return { finding, change: { ...when, kind: 'taken-back', now } };
  }
  if (event.type === 'finding-withdrawn') {
    return { finding: event.open.finding, change: { ...when, kind: 'withdrawn' } };
  }
  return null;
}

/** A taking back leaves the value as it was; only the last change says whether it stands. */
function standing(finding: string, history: readonly FindingChange[]): FindingStands {
  const last = history.at(-1);
  const settled = history.findLast((change) => change.kind === 'settled');
  const value = last?.kind === 'withdrawn' || settled === undefined ? null : settled.value;
  return { finding, value, takenBackTo: last?.kind === 'taken-back' ? last.now : null, history };
}
