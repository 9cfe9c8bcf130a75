/** Keeps compiled flows by their hash, so that an open call outlives the files that its flow was made from. */
import type { FlowHash } from '../basics/ids.ts';
import type { Millis } from '../basics/clock.ts';
import type { Result } from '../basics/result.ts';
import type { CompiledFlow } from '../flow/compiled.ts';

export type KeptFlow = CompiledFlow;

export interface FlowStore {
  /** Durable when it resolves. The first time counts; keeping a flow again changes nothing. */
  readonly keep: (compiled: KeptFlow, at: Millis) => Promise<Result<void, 'store-down'>>;
  /** Null when it was never kept, and when what is kept does not hash to its name: such a flow is not run. */
  readonly read: (hash: FlowHash) => Promise<Result<KeptFlow | null, 'store-down'>>;
}

/** The same store, asked to keep each flow once in the life of the program, so that a turn does not pay for it. */
export function keepingOnce(store: FlowStore): FlowStore {
  const kept = new Map<FlowHash, ReturnType<FlowStore['keep']>>();
  return {
    read: store.read,
    // Calls that begin at once wait for the same one.
    keep: async (compiled, at) => {
      const keeping = kept.get(compiled.hash) ?? store.keep(compiled, at);
      kept.set(compiled.hash, keeping);
      let isKept = false;
      try {
        const done = await keeping;
        isKept = done.ok;
        return done;
      } finally {
        if (!isKept) kept.delete(compiled.hash);
      }
    },
  };
}
