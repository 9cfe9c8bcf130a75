/**
 * A script that is withdrawn while a call runs on it: the call keeps its script and goes to a person on the same day.
 * Source: the practice's own rule for approvals.
 */
import { expect, test } from 'vitest';
import type { TurnDeps } from '../../src/call/turn.ts';
import { readRecord } from '../../src/review/read-record.ts';
import { aPractice } from '../support/a-practice.ts';
import { aRing } from '../support/a-ring.ts';

function withdrawable() {
  const practice = aPractice();
  const withdrawn = new Set<string>();
  const flows = { ...practice.deps.flows, isWithdrawn: (hash: string) => withdrawn.has(hash) };
  const deps: TurnDeps = { ...practice.deps, flows };
  return { practice, withdrawn, deps };
}

test('a call in progress keeps its script, gets at least a same-day review, and the record says why', async () => {
  const { practice, withdrawn, deps } = withdrawable();
  const ring = await aRing(deps);
  await ring.answerNext();
  const { hash } = ring.done.runner.compiled;
  withdrawn.add(hash);
  await ring.answerAll();
  expect(ring.done.runner.compiled.hash).toBe(hash);
  expect(ring.result).toBe('arrange-review/same-day');
  const events = await practice.store.calls.events(ring.call);
  if (!events.ok) throw new Error('The store is down');
  const raised = events.value.filter(({ type }) => type === 'raised');
  expect(raised).toHaveLength(1);
  expect(raised[0]).toMatchObject({
    by: 'system',
    open: { outcome: 'arrange-review', within: 'same-day', hash },
    sealed: { why: expect.stringContaining('withdrawn') as string },
  });
  expect(readRecord(events.value).outcomes.at(-1)?.outcome).toMatchObject({ within: 'same-day' });
});

test('an outcome that is worse already stands, and a call on another script is not touched', async () => {
  const { withdrawn, deps } = withdrawable();
  const worse = await aRing(deps);
  withdrawn.add(worse.done.runner.compiled.hash);
  await worse.answerAll({ breathless: 'yes' });
  expect(worse.done.standing.assessment.outcome).toMatchObject({ outcome: 'urgent-escalation' });
  withdrawn.clear();
  withdrawn.add('another');
  const other = await aRing(deps);
  await other.answerAll();
  expect(other.result).toBe('advise/none');
});
