/** What of a call the front desk sees: the danger screen, the number and whom to ring; no advice, no points, no notes of others. */
import type { StoredEvent } from '../call/call-store.ts';
import type { SignedIn } from '../people/staff.ts';
import type { CallView } from './contract/call-view.ts';

/** Everything but the notes that somebody else wrote. */
export function eventsFor(who: SignedIn, events: readonly StoredEvent[]): readonly StoredEvent[] {
  if (who.role !== 'front-desk') return events;
  return events.filter(({ type, by }) => type !== 'noted' || by === `user:${who.id}`);
}

export function viewFor(who: SignedIn, view: CallView): CallView {
  if (who.role !== 'front-desk') return view;
  return {
    ...view,
    question: view.question?.tier === 'screen' || view.question?.kind === 'fact' ? view.question : null,
    earlierCalls: null,
    stillToAsk: [],
    unknown: [],
    answered: view.answered.filter(({ how }) => how === 'fact'),
    result: view.urgent ? urgentPart(view.result) : null,
  };
}

/** What must be said and done at once, whoever has answered the telephone. */
function urgentPart(result: CallView['result']): CallView['result'] {
  if (result === null) return null;
  return {
    ...result,
    about: null,
    clinicianNeeds: null,
    reasons: [],
    concerns: null,
    aftercare: [],
    normal: [],
    safetyNet: '',
    handover: { situation: '', background: '', assessment: '', recommendation: '' },
  };
}
