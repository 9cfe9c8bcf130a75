/**
 * Where each lately used call's chain ends and under which key, so that a turn writes without reading first.
 * A wrong entry costs a read, never a wrong write: the write itself asks for the sequence number.
 */
import type { CallId, OperationId, PatientId } from '../basics/ids.ts';

export interface KnownHead {
  readonly seq: number;
  readonly hash: string;
  /** Null when the key was destroyed. */
  readonly key: Buffer | null;
  /** The key as it is wrapped, and by which patient's key; null for the practice's. */
  readonly wrapped: string | null;
  readonly wrappedBy: PatientId | null;
  /** Whom the call is about. */
  readonly patientId: PatientId | null;
  readonly operationId: OperationId | null;
}

export interface HeadCache {
  readonly get: (call: CallId) => KnownHead | undefined;
  readonly put: (call: CallId, head: KnownHead) => void;
  readonly forget: (call: CallId) => void;
}

export function headCache(most: number): HeadCache {
  const heads = new Map<CallId, KnownHead>();
  return {
    get: (call) => heads.get(call),
    put: (call, head) => {
      // Taken out first, so that the order of the map is the order of use.
      heads.delete(call);
      heads.set(call, head);
      if (heads.size > most) forgetOldest(heads);
    },
    forget: (call) => void heads.delete(call),
  };
}

function forgetOldest(heads: Map<CallId, KnownHead>): void {
  const oldest = heads.keys().next();
  if (oldest.done !== true) heads.delete(oldest.value);
}
