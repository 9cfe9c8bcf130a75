/** Warnings 30, 7 and 1 days before an approval ends, and never silence about what is unsigned. Source: the practice's rule. */
import { expect, it } from 'vitest';
import { expiryWarnings, signedState, type Approval } from '../../src/flow/approvals.ts';
import { expiringSoon } from '../../src/server/expiring.ts';
import { fixedClock } from '../support/fixed-clock.ts';
import { realContent } from '../support/real-flows.ts';

const content = realContent();
const lift = content.library.flowFor(['breast-lift']);

function signedUntil(until: string): readonly Approval[] {
  const row = { procedure: 'breast-lift', hash: lift.hash, on: '2026-01-05', until };
  return [
    { ...row, as: 'surgeon', by: 'Miss Ottoline Farrant' },
    { ...row, as: 'safety', by: 'Dr Ines Carrow' },
  ];
}

it.each([
  ['2026-02-28', null],
  ['2026-03-01', 30],
  ['2026-03-23', 30],
  ['2026-03-24', 7],
  ['2026-03-30', 1],
  ['2026-03-31', 1],
  ['2026-04-01', null],
])('on %s an approval to 31 March is warned about at %s days', (today, warnedAt) => {
  const approvals = signedUntil('2026-03-31');
  const state = signedState(approvals, { procedure: 'breast-lift', hash: lift.hash }, today);
  expect(expiryWarnings([state], today)[0]?.warnedAt ?? null).toBe(warnedAt);
});

it('a live practice hears at start what ends soon and what is unsigned; a demo hears nothing', () => {
  const clock = fixedClock('2026-03-24T12:00:00Z');
  const live = {
    ...content,
    approvals: () => signedUntil('2026-03-31'),
    practice: { ...content.practice, mode: 'live' as const },
  };
  const lines = expiringSoon(live, clock);
  expect(lines[0]).toBe(
    'The approval of breast-lift ends on 2026-03-31, in 7 days; after it callers get the short script.',
  );
  expect(lines).toHaveLength(content.library.procedures.length);
  expect(expiringSoon(content, clock)).toEqual([]);
});
