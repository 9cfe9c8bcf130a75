/** Reads a call with everything its view needs. */
import { fault, type Fault } from '../basics/fault.ts';
import type { CallId } from '../basics/ids.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import { loadCall, type Loaded } from '../call/load-call.ts';
import type { SignedIn } from '../people/staff.ts';
import type { CallView } from './contract/call-view.ts';
import type { DeskDeps } from './deps.ts';
import { eventsFor, viewFor } from './for-role.ts';
import { callView } from './view/call-view.ts';

const UNREADABLE = fault('store-down', 'The record cannot be read now.');

export async function readCall(deps: DeskDeps, who: SignedIn, id: string): Promise<Result<CallView, Fault>> {
  const call = callIdOf(id);
  const loaded = await loadCall(deps.turn, call);
  return loaded.ok ? viewOf(deps, who, { call, loaded: loaded.value }) : loaded;
}

/** The view of a call that was loaded already, as after a turn. */
export async function viewOf(
  deps: DeskDeps,
  who: SignedIn,
  { call, loaded }: { readonly call: CallId; readonly loaded: Loaded },
): Promise<Result<CallView, Fault>> {
  const [notes, promises] = await Promise.all([
    deps.turn.store.eventsOf(call, 'noted'),
    deps.turn.store.promisesOf(call),
  ]);
  if (!notes.ok || !promises.ok) return failed(UNREADABLE);
  const seen = eventsFor(who, notes.value);
  const view = callView(deps, { call, loaded, notes: seen, promises: promises.value });
  return ok(viewFor(who, view));
}

/** An id that comes from outside; one that no call has is not found, whatever it looks like. */
export function callIdOf(id: string): CallId {
  return id as CallId;
}
