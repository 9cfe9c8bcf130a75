/** A call in progress whose script is withdrawn under it: it keeps its script, and goes to a person on the same day. */
import { SAME_DAY, rank } from '../clinical/outcome.ts';
import type { Flows } from './choose-flow.ts';
import type { Loaded } from './load-call.ts';
import { notBelow } from './lost-flow.ts';
import { CLOSED } from './machine.ts';
import { standingOf } from './step.ts';

/** The call raised to a same-day review, or the call as it is: closed, raised before, or on a script that stands. */
export function afterWithdrawal(flows: Flows, loaded: Loaded): Loaded {
  const { runner, snapshot } = loaded;
  if (loaded.seq === 0 || snapshot.value === CLOSED) return loaded;
  if (flows.isWithdrawn?.(runner.compiled.hash) !== true) return loaded;
  const { assessment, context } = standingOf(runner, snapshot);
  const floor = context.raised === null ? 0 : rank(context.raised);
  if (Math.max(rank(assessment.outcome), floor) >= rank(SAME_DAY)) return loaded;
  return { ...loaded, snapshot: notBelow(runner, snapshot, SAME_DAY), stands: SAME_DAY, withdrawn: true };
}
