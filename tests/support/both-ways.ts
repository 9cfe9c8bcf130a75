/** Where a call stands by its snapshot and by its events alone, in a form in which the two can be compared. */
import { loadCall } from '../../src/call/load-call.ts';
import { rebuild } from '../../src/call/rebuild.ts';
import { toStored, type Snapshot } from '../../src/call/snapshot.ts';
import { standingOf, type Runner } from '../../src/call/step.ts';
import type { Practice } from './a-practice.ts';
import type { Ring } from './a-ring.ts';

/** Seeds of random calls that once stood elsewhere by their events than by their snapshot. */
export const ONCE_WRONG = [18, 32, 2265];

export async function bothWays(practice: Practice, ring: Ring) {
  const loaded = await loadCall(practice.deps, ring.call);
  if (!loaded.ok) throw new Error(loaded.fault.message);
  const { runner, snapshot } = loaded.value;
  const again = await rebuild(practice.deps, ring.call, runner.compiled);
  if (!again.ok) throw new Error(again.fault.message);
  return { kept: comparable(runner, snapshot), rebuilt: comparable(runner, again.value.snapshot) };
}

/** Whether an asking that was over has been taken up again is no decision and stands in no event. */
function comparable(runner: Runner, snapshot: Snapshot) {
  const { value, context } = toStored('', snapshot);
  const ending = context.ending === 'cut-off' ? 'cut-off' : 'not cut off';
  const { assessment, question } = standingOf(runner, snapshot);
  return { value, question: question?.id ?? null, context: { ...context, ending }, assessment };
}
