/** The words that a flow of a test brings along; nobody hears them. */
import { REASONS, type CommonWords, type ReasonId } from '../../src/flow/compiled.ts';
import { HANDOVER_WORDS, type HandoverWords } from '../../src/flow/handover-words.ts';

const reasons = Object.fromEntries(REASONS.map((id) => [id, id])) as Record<ReasonId, string>;

const handover = Object.fromEntries(HANDOVER_WORDS.map((id) => [id, id])) as HandoverWords;

export const testWords: CommonWords = {
  greeting: 'Hello.',
  emergency: 'Ring the emergency number now.',
  caution: 'A telephone cannot be sure.',
  reachClinician: 'The clinician rings you.',
  untilSeen: ['Stay where somebody can see you.'],
  safetyNetStart: 'A telephone cannot be sure.',
  safetyNetEnd: 'Ring again for any reason.',
  outcome: {
    advise: 'This is usual.',
    review: {
      'same-day': 'Today.',
      'next-day': 'Tomorrow.',
      'next-working-day': 'The next working day.',
      'planned-visit': 'At a visit.',
    },
    urgent: 'A clinician rings within the hour.',
    emergency: 'This is an emergency.',
    cutOff: 'We ring you back.',
  },
  reasons,
  handover,
};
