/** What a demo call may state as fact: every id of the vocabulary, with a value that it can take, on the real flows. */
import { expect, test } from 'vitest';
import type { FindingSpec } from '../../src/clinical/finding.ts';
import { systemClock } from '../../src/basics/system-clock.ts';
import { turnDeps } from '../../src/server/compose.ts';
import { loadContent } from '../../src/server/content.ts';
import { openMemory } from '../../src/store/memory.ts';
import { newKey } from '../../src/store/sealing.ts';
import { playCall } from '../../src/terminal/play-call.ts';

const content = loadContent('flows');
if (!content.ok) throw new Error('The flows do not load.');
const deps = turnDeps(content.value, openMemory({ practiceKey: newKey() }), systemClock);
const playing = { withOpening: true, callerNumber: '+441632960001' };

const played = (facts: Record<string, string | number>) =>
  playCall(deps, { procedure: 'breast-lift', day: 3, facts }, playing);

function refusal(result: Awaited<ReturnType<typeof played>>): string {
  return result.ok ? 'accepted' : result.fault.message;
}

test('every finding of the vocabulary is accepted, and one of another procedure is never asked for', async () => {
  const specs: readonly FindingSpec[] = Object.values(deps.flows.general.flow.findings);
  expect(specs.length).toBeGreaterThan(100);
  const all = await played(Object.fromEntries(specs.map(({ id, normal }) => [id, normal])));
  expect(refusal(all)).toBe('accepted');
  expect(all.ok ? all.value.neverAsked : []).toContain('eye-bulging');
});

test('an unknown finding and an impossible value are refused with what is accepted', async () => {
  expect(refusal(await played({ wibble: 'yes' }))).toMatch(/wibble.*accepted/);
  expect(refusal(await played({ redness: 'purple' }))).toMatch(/redness.*accepted: none, along-the-scar/);
  expect(refusal(await played({ temperature: 380 }))).toMatch(
    /temperature.*accepted: a number from 30 to 44/,
  );
  expect(refusal(await played({ 'eye-bulging': 'perhaps' }))).toMatch(/eye-bulging.*accepted: .*yes/);
});
