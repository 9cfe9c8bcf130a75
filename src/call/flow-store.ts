/** Keeps compiled flows by their hash, so that an open call outlives the files that its flow was made from. */
import type { FlowHash } from '../basics/ids.ts';
import type { Millis } from '../basics/clock.ts';
import { ok, type Result } from '../basics/result.ts';
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
  const kept = new Set<FlowHash>();
  return {
    read: store.read,
    keep: async (compiled, at) => {
      if (kept.has(compiled.hash)) return ok(undefined);
      const done = await store.keep(compiled, at);
      if (done.ok) kept.add(compiled.hash);
      return done;
    },
  };
}
