/** The tables of the store in memory, sharing one list of what undoes the write under way. */
import { memoryTable } from './memory-table.ts';
import type { MemoryTable } from './memory-table.ts';
import type {
  AuditEntryRow,
  AuditRow,
  CallRow,
  CheckpointRow,
  EventRow,
  FlowRow,
  KeyRow,
  MessageRow,
  OperationRow,
  PatientRow,
  PromiseRow,
  SnapshotRow,
  TextNumberRow,
  TokenRow,
  TurnRow,
} from './schema.ts';

export type StoredCallRow = CallRow & { readonly checked_seq: number };

export interface MemoryTables {
  readonly calls: MemoryTable<StoredCallRow>;
  readonly events: MemoryTable<EventRow>;
  readonly turns: MemoryTable<TurnRow>;
  readonly snapshots: MemoryTable<SnapshotRow>;
  readonly promises: MemoryTable<PromiseRow>;
  readonly keys: MemoryTable<KeyRow>;
  readonly checkpoints: MemoryTable<CheckpointRow>;
  readonly patients: MemoryTable<PatientRow>;
  readonly operations: MemoryTable<OperationRow>;
  readonly tokens: MemoryTable<TokenRow>;
  readonly flows: MemoryTable<FlowRow>;
  readonly audits: MemoryTable<AuditRow>;
  readonly auditEntries: MemoryTable<AuditEntryRow>;
  readonly outbox: MemoryTable<MessageRow>;
  readonly textNumbers: MemoryTable<TextNumberRow>;
  /** Undoes, last first, what was written since it was last emptied. */
  readonly undo: (() => void)[];
}

export function memoryTables(): MemoryTables {
  const undo: (() => void)[] = [];
  return {
    calls: memoryTable({ key: (row) => row.id, group: (row) => row.operation_id ?? '', undo }),
    events: memoryTable({ key: (row) => pairKey(row.call, row.seq), group: (row) => row.call, undo }),
    turns: memoryTable({ key: (row) => pairKey(row.call, row.token), group: (row) => row.call, undo }),
    snapshots: memoryTable({ key: (row) => row.call, group: (row) => row.call, undo }),
    promises: memoryTable({ key: (row) => row.id, group: (row) => row.call, undo }),
    keys: memoryTable({
      key: (row) => pairKey(row.kind, row.id),
      group: (row) => row.wrapped_by ?? '',
      undo,
    }),
    checkpoints: memoryTable({ key: (row) => String(row.n), group: () => '', undo }),
    patients: memoryTable({ key: (row) => row.id, group: () => '', undo }),
    operations: memoryTable({ key: (row) => row.id, group: (row) => row.patient_id, undo }),
    tokens: memoryTable({
      key: (row) => pairKey(row.token, row.patient_id),
      group: (row) => row.patient_id,
      undo,
    }),
    flows: memoryTable({ key: (row) => row.hash, group: () => '', undo }),
    audits: memoryTable({ key: (row) => row.id, group: (row) => row.call, undo }),
    auditEntries: memoryTable({ key: (row) => row.id, group: (row) => row.who, undo }),
    outbox: memoryTable({ key: (row) => row.id, group: (row) => row.call, undo }),
    textNumbers: memoryTable({ key: (row) => row.token, group: () => '', undo }),
    undo,
  };
}

/** One key of two parts that no other two parts give. */
export function pairKey(first: string, second: string | number): string {
  return JSON.stringify([first, second]);
}
