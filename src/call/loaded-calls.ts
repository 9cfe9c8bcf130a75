/**
 * Calls as this process last left them, so that the next turn begins without reading. What stands here is a guess: it
 * counts only once the commit that was computed from it has been accepted, and whoever is refused reads the store.
 */
import type { CallId, PatientId } from '../basics/ids.ts';
import type { Loaded } from './load-call.ts';

/** People are not kept with it: they can change while a call goes on. */
export type LeftCall = Pick<Loaded, 'head' | 'seq' | 'readable' | 'runner' | 'snapshot'>;

export interface LoadedCalls {
  /** Null when the store has to be asked. */
  readonly get: (call: CallId) => LeftCall | null;
  /** Nothing changes when a later point of the call is known already. A closed call is not kept. */
  readonly leave: (call: CallId, left: LeftCall) => void;
  readonly forget: (call: CallId) => void;
  /** For when a patient is erased: nothing said in calls about them stays in memory. */
  readonly forgetPatient: (patient: PatientId) => void;
}

export function makeLoadedCalls(most: number): LoadedCalls {
  const calls = new Map<CallId, LeftCall>();
  return {
    get: (call) => calls.get(call) ?? null,
    leave: (call, left) => {
      if ((calls.get(call)?.seq ?? 0) > left.seq) return;
      // Taken out first, so that the order of the map is the order of use.
      calls.delete(call);
      if (left.head?.state === 'closed') return;
      calls.set(call, left);
      if (calls.size > most) forgetOldest(calls);
    },
    forget: (call) => void calls.delete(call),
    forgetPatient: (patient) => {
      for (const [call, { head }] of calls) if (head?.patientId === patient) calls.delete(call);
    },
  };
}

function forgetOldest(calls: Map<CallId, LeftCall>): void {
  const oldest = calls.keys().next();
  if (oldest.done !== true) calls.delete(oldest.value);
}
