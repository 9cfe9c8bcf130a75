/** Which approvals end soon, in words for the log at start; what is unsigned in live is said too. */
import type { Clock } from '../basics/clock.ts';
import { civilTime } from '../basics/civil-time.ts';
import { expiryWarnings, signedState } from '../flow/approvals.ts';
import type { Content } from './content.ts';

/** One sentence each, soonest first; nothing in demo, where nothing has to be signed. */
export function expiringSoon({ library, approvals, practice }: Content, clock: Clock): readonly string[] {
  const today = civilTime(clock.now(), practice.zone);
  if (practice.mode === 'demo' || !today.ok) return [];
  const signed = approvals();
  const states = library.procedures.map((procedure) =>
    signedState(signed, { procedure, hash: library.flowFor([procedure]).hash }, today.value.date),
  );
  const ending = expiryWarnings(states, today.value.date).map(
    ({ procedure, until, daysLeft }) =>
      `The approval of ${procedure} ends on ${until}, in ${String(daysLeft)} days; after it callers get the short script.`,
  );
  const without = states
    .filter(({ state }) => state !== 'approved')
    .map(({ procedure, state }) => `${procedure} is ${state}; callers get the short script instead.`);
  return [...ending, ...without];
}
