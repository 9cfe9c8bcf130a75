/** The tables and their rows, the same on SQLite and PostgreSQL: JSON as text, times as UTC milliseconds. */
import type { Generated } from 'kysely';
import type { Millis } from '../basics/clock.ts';
import type { CallId, FlowHash, MessageId, OperationId, PatientId, PromiseId } from '../basics/ids.ts';
import type { Actor, Channel, Direction, PromiseKind, PromiseWrite } from '../call/call-store.ts';
import type { Role } from '../people/staff.ts';
import type { MessageKind, MessageState } from '../call/outbox.ts';

export type CallRow = {
  readonly id: CallId;
  /** The seq and hash of the call's last event. */
  readonly seq: number;
  readonly hash: string;
  readonly channel: Channel;
  readonly direction: Direction;
  readonly started_at: Millis;
  readonly zone: string;
  readonly patient_id: PatientId | null;
  readonly operation_id: OperationId | null;
  readonly flow_hash: FlowHash;
  readonly lexicon_hash: string;
  readonly program_version: string;
  readonly state: 'open' | 'closed';
  readonly outcome: string | null;
  readonly about: string | null;
};

export type EventRow = {
  readonly call: CallId;
  readonly seq: number;
  readonly at: Millis;
  readonly by: Actor;
  readonly type: string;
  readonly v: number;
  readonly open: string;
  readonly sealed: string | null;
  /** The hash of the event before it in the call; empty for the first. */
  readonly prev: string;
  readonly hash: string;
};

export type TurnRow = {
  readonly call: CallId;
  readonly token: string;
  /** The call's seq after the turn. */
  readonly seq: number;
  readonly reply: string;
};

export type SnapshotRow = { readonly call: CallId; readonly sealed: string };

export type PromiseRow = {
  readonly id: PromiseId;
  readonly call: CallId;
  readonly kind: PromiseKind;
  readonly opened_at: Millis;
  readonly due_at: Millis | null;
  readonly owner: string;
  readonly state: PromiseWrite['state'];
  readonly open: string;
};

export type MessageRow = {
  readonly id: MessageId;
  readonly call: CallId;
  readonly promise: PromiseId | null;
  readonly kind: MessageKind;
  readonly who: string | null;
  readonly template: string;
  readonly sealed: string | null;
  readonly due_at: Millis;
  readonly state: MessageState;
  readonly tries: number;
  readonly claimed_at: Millis | null;
  readonly claimed_by: string | null;
  readonly provider_id: string | null;
};

export type TextNumberRow = {
  /** The number, keyed; it is written nowhere. */
  readonly token: string;
  /** The call that its texts belong to, and when that began. */
  readonly call: CallId | null;
  readonly begun_at: Millis | null;
  /** Since when it wants no messages. */
  readonly stopped_at: Millis | null;
};

/** `practice` is the one row that shows whether a practice key is the right one. */
export type KeyKind = 'practice' | 'patient' | 'call';

export type KeyRow = {
  readonly kind: KeyKind;
  readonly id: string;
  /** The patient whose key wraps this one; null for the practice's. */
  readonly wrapped_by: PatientId | null;
  readonly wrapped: string;
};

export type CheckpointRow = {
  /** 1, 2, 3 ... without a gap. */
  readonly n: number;
  readonly at: Millis;
  /** JSON text: [call, seq, hash] of every call that changed since the checkpoint before it. */
  readonly heads: string;
  readonly prev: string;
  readonly hash: string;
};

export type PatientRow = { readonly id: PatientId; readonly sealed: string };

export type OperationRow = {
  readonly id: OperationId;
  readonly patient_id: PatientId;
  readonly sealed: string;
};

export type TokenRow = { readonly token: string; readonly patient_id: PatientId };

export type FlowRow = {
  /** SHA-256 of `content`. */
  readonly hash: FlowHash;
  /** The flow's canonical JSON. */
  readonly content: string;
  readonly kept_at: Millis;
};

export type AuditEntryRow = {
  readonly id: string;
  readonly at: Millis;
  readonly who: string;
  readonly role: Role | null;
  readonly what: string;
  /** JSON text: a list of ids. */
  readonly about: string;
  readonly from_address: string;
};

export type AuditRow = {
  readonly id: string;
  readonly call: CallId;
  readonly at: Millis;
  readonly who: string;
  readonly sealed: string;
};

export interface Tables {
  /** `checked_seq`: how far the last checkpoint that saw the call reached. */
  readonly calls: CallRow & { readonly checked_seq: Generated<number> };
  readonly events: EventRow;
  readonly turns: TurnRow;
  readonly snapshots: SnapshotRow;
  readonly promises: PromiseRow;
  readonly wrapped_keys: KeyRow;
  readonly checkpoints: CheckpointRow;
  readonly patients: PatientRow;
  readonly operations: OperationRow;
  readonly search_tokens: TokenRow;
  readonly flows: FlowRow;
  readonly audit_entries: AuditEntryRow;
  readonly audits: AuditRow;
  readonly outbox: MessageRow;
  readonly text_numbers: TextNumberRow;
}
