/** Reads how the outcome moved, what was told, and what people decided about it. */
import type { Recorded } from '../call/recorded.ts';
import { kept, written } from './kept.ts';
import type { Decision, OutcomeMove, PlainOutcome, TellingLine } from './view.ts';

export function readOutcomes(events: readonly Recorded[]): readonly OutcomeMove[] {
  return events.flatMap((event) => {
    if (event.type !== 'assessed') return [];
    const { outcome, act, concerns, redFlags, reasons } = event.open;
    const shown = reasons.map(({ text, source, points }) => ({ text, source, points }));
    return [{ ...written(event), outcome, act, points: concerns, redFlags, reasons: shown }];
  });
}

export function readTold(events: readonly Recorded[]): readonly TellingLine[] {
  return events.flatMap((event) =>
    event.type === 'told' ? [{ ...written(event), outcome: plain(event.open), words: event.open.words }] : [],
  );
}

export function readDecisions(events: readonly Recorded[]): readonly Decision[] {
  return events.flatMap((event): readonly Decision[] => {
    const when = written(event);
    if (event.type === 'raised' || event.type === 'lowering-asked') {
      const why = kept(event, event.sealed?.why);
      return [{ ...when, kind: event.type, to: plain(event.open), why }];
    }
    if (event.type === 'lowered') {
      const { spokeToPatient } = event.open;
      const clinician = kept(event, event.sealed?.clinician);
      const why = kept(event, event.sealed?.why);
      return [{ ...when, kind: 'lowered', to: plain(event.open), clinician, why, spokeToPatient }];
    }
    if (event.type === 'accepted') {
      const clinician = kept(event, event.sealed?.clinician);
      const reported = event.open.reported === true;
      return [{ ...when, kind: 'accepted', to: plain(event.open), clinician, reported }];
    }
    return [];
  });
}

function plain({ outcome, within, emergency }: PlainOutcome): PlainOutcome {
  return { outcome, within, emergency };
}
