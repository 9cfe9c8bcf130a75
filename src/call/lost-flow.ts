/**
 * Goes on with a call whose own flow is nowhere any more: on today's flow for the same operation, and never below the
 * outcome that the record last came to. What was said to the caller before stands.
 */
import { z } from 'zod';
import { fault, type Fault } from '../basics/fault.ts';
import type { CallId } from '../basics/ids.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import { ADVISE, rank, type Outcome } from '../clinical/outcome.ts';
import type { CompiledFlow } from '../flow/compiled.ts';
import type { NewEvent, StoredEvent } from './call-store.ts';
import type { Flows } from './choose-flow.ts';
import { contextSchema } from './context.ts';
import { assessmentJson, changeEvents, event, type Stamp } from './events.ts';
import type { LoadDeps, Loaded } from './load-call.ts';
import { raisedTo } from './machine.ts';
import { rebuild } from './rebuild.ts';
import { resolve, type Snapshot } from './snapshot.ts';
import { step, type Runner, type Standing } from './step.ts';
import { readEvent } from './upcast.ts';

type Rebuilt = Pick<Loaded, 'runner' | 'snapshot' | 'stands'>;

export async function onCurrentFlow(deps: LoadDeps, call: CallId): Promise<Result<Rebuilt, Fault>> {
  const events = await deps.store.events(call);
  if (!events.ok) return failed(fault('store-down', 'The record cannot be read now.'));
  const rebuilt = await rebuild(deps, call, currentFlow(deps.flows, events.value));
  if (!rebuilt.ok) return rebuilt;
  const stands = recordedOutcome(events.value);
  const { runner } = rebuilt.value;
  return ok({ runner, snapshot: notBelow(runner, rebuilt.value.snapshot, stands), stands });
}

const identifiedSchema = z.object({ flow: z.string() });
const assessedSchema = z.object({ outcome: contextSchema.shape.told.unwrap() });

/** The flow of the operation that the call was last identified with; the general one before that. */
function currentFlow(flows: Flows, events: readonly StoredEvent[]): CompiledFlow {
  const open = lastOf(events, 'identified');
  return open === null ? flows.general : flows.flowFor(identifiedSchema.parse(open).flow.split('+'));
}

/** What the record last came to; the mildest outcome when nothing was assessed yet. */
function recordedOutcome(events: readonly StoredEvent[]): Outcome {
  const open = lastOf(events, 'assessed');
  return open === null ? ADVISE : assessedSchema.parse(open).outcome;
}

function lastOf(events: readonly StoredEvent[], type: 'identified' | 'assessed'): unknown {
  const last = events.findLast((stored) => stored.type === type);
  return last === undefined ? null : readEvent(last).open;
}

/** A closed call takes no event, but shows no less either. */
export function notBelow(runner: Runner, snapshot: Snapshot, stands: Outcome): Snapshot {
  if (rank(stands) === 0) return snapshot;
  const raised = step(runner, snapshot, { type: 'RAISE', to: stands, by: 'program' });
  if (raised.ok) return raised.value;
  const { value, context } = snapshot;
  return resolve(runner.machine, {
    value,
    context: { ...context, ...raisedTo(context, { to: stands, by: 'program' }) },
  });
}

const GONE =
  'The script that this call began on is gone; it goes on with the script of today, and not below what it had come to.';
const WITHDRAWN =
  'Whoever signed the script of this call has withdrawn it; a person takes over, and the call gets at least a same-day review.';

/** Says in the record that the flow was replaced or withdrawn, what that came to and what is asked now; nothing for other calls. */
export function replacedEvents(
  { stands, runner, withdrawn }: Pick<Loaded, 'stands' | 'runner' | 'withdrawn'>,
  before: Standing | null,
  { at }: Stamp,
): readonly NewEvent[] {
  if (stands === null || before === null) return [];
  const stamp: Stamp = { at, by: 'system' };
  const { flow, hash } = runner.compiled;
  const { outcome, within, emergency } = stands;
  const open = { outcome, within, emergency, flow: flow.id, hash };
  return [
    ...(rank(stands) === 0
      ? []
      : [event('raised', stamp, { open, sealed: { why: withdrawn === true ? WITHDRAWN : GONE } })]),
    event('assessed', stamp, { open: assessmentJson(before.assessment) }),
    ...changeEvents(runner.compiled, { before: { ...before, question: null }, after: before }, stamp),
  ];
}
