/** Between what a call store is handed and the rows that are kept: sealing, hashing and the way back. */
import type { CallId } from '../basics/ids.ts';
import type { Json } from '../basics/json.ts';
import type {
  CallHead,
  NewEvent,
  PromiseWrite,
  StoredEvent,
  StoredPromise,
  TurnWrite,
} from '../call/call-store.ts';
import { eventHash } from './record-hash.ts';
import type { CallRow, EventRow, PromiseRow, SnapshotRow, TurnRow } from './schema.ts';
import { outboxAsks } from './outbox-rows.ts';
import type { OutboxAsk } from './outbox-rows.ts';
import { parseJson, unsealJson } from './sealed-json.ts';
import { seal } from './sealing.ts';
import type { Place } from './sealing.ts';

/** Where a call's chain stands before a turn, and the key its sealed texts are under. */
export interface ChainEnd {
  readonly seq: number;
  readonly hash: string;
  readonly key: Buffer;
}

export interface TurnRows {
  readonly call: CallRow;
  readonly events: readonly EventRow[];
  readonly turn: TurnRow;
  readonly snapshot: SnapshotRow;
  readonly promises: readonly PromiseRow[];
  readonly outbox: readonly OutboxAsk[];
}

export function turnRows(turn: TurnWrite, before: ChainEnd): TurnRows {
  const events = eventRows(turn, before);
  const seq = before.seq + events.length;
  const hash = events.at(-1)?.hash ?? before.hash;
  const reply = seal(before.key, JSON.stringify(turn.reply), replyPlace(turn.call, turn.token));
  const snapshot = seal(before.key, JSON.stringify(turn.snapshot), snapshotPlace(turn.call, seq));
  return {
    call: callRow(turn, seq, hash),
    events,
    turn: { call: turn.call, token: turn.token, seq, reply },
    snapshot: { call: turn.call, sealed: snapshot },
    promises: turn.promises.map((promise) => promiseRow(turn.call, promise)),
    outbox: outboxAsks(turn.call, turn.messages, before.key),
  };
}

function eventRows(turn: TurnWrite, before: ChainEnd): readonly EventRow[] {
  const rows: EventRow[] = [];
  for (const event of turn.events) {
    const seq = before.seq + rows.length + 1;
    const row = {
      call: turn.call,
      seq,
      at: event.at,
      by: event.by,
      type: event.type,
      v: event.v,
      open: JSON.stringify(event.open),
      sealed: sealedText(event, before.key, eventPlace(turn.call, seq)),
      prev: rows.at(-1)?.hash ?? before.hash,
    };
    rows.push({ ...row, hash: eventHash(row) });
  }
  return rows;
}

function sealedText(event: NewEvent, key: Buffer, place: Place): string | null {
  return event.sealed === null ? null : seal(key, JSON.stringify(event.sealed), place);
}

function callRow(turn: TurnWrite, seq: number, hash: string): CallRow {
  const head = turn.head;
  return {
    id: turn.call,
    seq,
    hash,
    channel: head.channel,
    direction: head.direction,
    started_at: head.startedAt,
    zone: head.zone,
    patient_id: head.patientId,
    operation_id: head.operationId,
    flow_hash: head.flowHash,
    lexicon_hash: head.lexiconHash,
    program_version: head.programVersion,
    state: head.state,
    outcome: head.outcome,
    about: head.about,
  };
}

export function headFrom(row: CallRow): CallHead {
  return {
    channel: row.channel,
    direction: row.direction,
    startedAt: row.started_at,
    zone: row.zone,
    patientId: row.patient_id,
    operationId: row.operation_id,
    flowHash: row.flow_hash,
    lexiconHash: row.lexicon_hash,
    programVersion: row.program_version,
    state: row.state,
    outcome: row.outcome,
    about: row.about,
  };
}

/** A sealed text that does not open counts as erased; whether it was tampered with, the chain says. */
export function eventFrom(row: EventRow, key: Buffer | null): StoredEvent {
  const sealed = unsealJson(key, row.sealed, eventPlace(row.call, row.seq));
  return {
    call: row.call,
    seq: row.seq,
    type: row.type,
    v: row.v,
    at: row.at,
    by: row.by,
    open: parseJson(row.open),
    sealed,
    erased: row.sealed !== null && sealed === null,
    hash: row.hash,
  };
}

export function snapshotFrom(row: { readonly seq: number } & SnapshotRow, key: Buffer | null): Json | null {
  return unsealJson(key, row.sealed, snapshotPlace(row.call, row.seq));
}

export function replyFrom(row: TurnRow, key: Buffer | null): Json | null {
  return unsealJson(key, row.reply, replyPlace(row.call, row.token));
}

function promiseRow(call: CallId, promise: PromiseWrite): PromiseRow {
  return {
    id: promise.id,
    call,
    kind: promise.kind,
    opened_at: promise.openedAt,
    due_at: promise.dueAt,
    owner: promise.owner,
    state: promise.state,
    open: JSON.stringify(promise.open),
  };
}

export function promiseFrom(row: PromiseRow): StoredPromise {
  return {
    id: row.id,
    call: row.call,
    kind: row.kind,
    openedAt: row.opened_at,
    dueAt: row.due_at,
    owner: row.owner,
    state: row.state,
    open: parseJson(row.open),
  };
}

function eventPlace(call: CallId, seq: number): Place {
  return ['event', call, seq];
}

function replyPlace(call: CallId, token: string): Place {
  return ['reply', call, token];
}

// With the seq in it, a snapshot that does not belong to the call's last event does not open.
function snapshotPlace(call: CallId, seq: number): Place {
  return ['snapshot', call, seq];
}
