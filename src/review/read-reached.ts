/** Reads every try to reach a clinician or the caller, and what became of what was promised. */
import type { Recorded } from '../call/recorded.ts';
import { kept, written } from './kept.ts';
import type { ReachLine } from './view.ts';

export function readReached(events: readonly Recorded[]): readonly ReachLine[] {
  return events.flatMap((event): readonly ReachLine[] => {
    const when = written(event);
    if (event.type === 'attempted') {
      const { what, rung, staff, came } = event.open;
      return [{ ...when, kind: 'attempt', what, rung, staff, came }];
    }
    if (event.type === 'promise-kept') {
      const { kind: promise, result } = event.open;
      return [{ ...when, kind: 'promise', promise, result, text: kept(event, event.sealed?.text) }];
    }
    return [];
  });
}
