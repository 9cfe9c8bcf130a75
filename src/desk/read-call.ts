/** Reads a call with everything its view needs. */
import { fault, type Fault } from '../basics/fault.ts';
import type { CallId } from '../basics/ids.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import { loadCall } from '../call/load-call.ts';
import type { SignedIn } from '../people/staff.ts';
import type { CallView } from './contract/call-view.ts';
import type { DeskDeps } from './deps.ts';
import { eventsFor, viewFor } from './for-role.ts';
import { callView } from './view/call-view.ts';

const UNREADABLE = fault('store-down', 'The record cannot be read now.');

export async function readCall(deps: DeskDeps, who: SignedIn, id: string): Promise<Result<CallView, Fault>> {
  const call = callIdOf(id);
  const loaded = await loadCall(deps.turn, call);
  if (!loaded.ok) return loaded;
  const [events, promises] = await Promise.all([
    deps.turn.store.events(call),
    deps.turn.store.promisesOf(call),
  ]);
  if (!events.ok || !promises.ok) return failed(UNREADABLE);
  const seen = eventsFor(who, events.value);
  const view = callView(deps, { call, loaded: loaded.value, events: seen, promises: promises.value });
  return ok(viewFor(who, view));
}

/** An id that comes from outside; one that no call has is not found, whatever it looks like. */
export function callIdOf(id: string): CallId {
  return id as CallId;
}
