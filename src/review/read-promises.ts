/** Reads what was promised in the course of a call, and what no longer followed. */
import type { Recorded, RecordedOf } from '../call/recorded.ts';
import type { PromiseLine } from './view.ts';

const KINDS = ['escalation', 'review', 'call-back'] as const;

/** Each event holds all promises of that moment; one that is missing from a later event was withdrawn, unless done. */
export function readPromises(events: readonly Recorded[]): readonly PromiseLine[] {
  const lines = new Map<string, PromiseLine>();
  for (const event of events) {
    if (event.type !== 'promised') continue;
    const now = linesOf(event);
    for (const [id, line] of lines) {
      if (line.state === 'open' && !now.some((one) => one.id === id)) {
        lines.set(id, { ...line, state: 'withdrawn' });
      }
    }
    for (const line of now) lines.set(line.id, line);
  }
  return [...lines.values()];
}

function linesOf({ open }: RecordedOf<'promised'>): readonly PromiseLine[] {
  return KINDS.flatMap((kind) => {
    const made = open[kind];
    return made === undefined ? [] : [{ kind, ...made }];
  });
}
