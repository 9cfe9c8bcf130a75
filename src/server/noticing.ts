/** A store of calls that says after every commit which call has changed. */
import type { Notices } from '../basics/notices.ts';
import type { CallStore } from '../call/call-store.ts';

export function noticing(calls: CallStore, notices: Notices): CallStore {
  return {
    ...calls,
    commit: async (turn) => {
      const written = await calls.commit(turn);
      if (written.ok) notices.tell(turn.call);
      return written;
    },
  };
}
