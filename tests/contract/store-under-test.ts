/** What a contract suite needs of each kind of store: an empty one, and the database behind it in a stranger's hands. */
import { onTestFinished } from 'vitest';
import type { CallId } from '../../src/basics/ids.ts';
import type { Store } from '../../src/store/store.ts';
import type { CheckpointRow, EventRow, FlowRow } from '../../src/store/schema.ts';

/** What somebody can do who holds the database itself and has switched its guards off. */
export interface BackDoor {
  readonly events: (call: CallId) => Promise<readonly EventRow[]>;
  readonly putEvent: (row: EventRow) => Promise<void>;
  readonly dropEvent: (call: CallId, seq: number) => Promise<void>;
  /** The call row alone; its events stay. */
  readonly dropCallRow: (call: CallId) => Promise<void>;
  /** Makes the call row believe that the call ends here. */
  readonly setEnd: (call: CallId, seq: number, hash: string) => Promise<void>;
  readonly checkpoints: () => Promise<readonly CheckpointRow[]>;
  readonly putCheckpoint: (row: CheckpointRow) => Promise<void>;
  readonly dropCheckpoint: (n: number) => Promise<void>;
  readonly putFlow: (row: FlowRow) => Promise<void>;
  /** Every row of every table as one text. */
  readonly everything: () => Promise<string>;
}

export interface OpenedStore {
  readonly store: Store;
  readonly back: BackDoor;
}

export type OpenStore = () => Promise<OpenedStore>;

export const KEYS = { practiceKey: Buffer.alloc(32, 7) };

/** Closed again when the test has finished. */
export async function opened(open: OpenStore): Promise<OpenedStore> {
  const it = await open();
  onTestFinished(() => it.store.close());
  return it;
}
