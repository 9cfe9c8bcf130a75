/** Everything that is ever asked of the tables, by name: the values it takes and the rows it answers with. */
import type { CallId, FlowHash, MessageId, OperationId, PatientId } from '../basics/ids.ts';
import type { Millis } from '../basics/clock.ts';
import type { MOVED } from './columns.ts';
import type {
  AuditEntryRow,
  AuditRow,
  CallRow,
  CheckpointRow,
  EventRow,
  FlowRow,
  KeyKind,
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

export type SqlValue = string | number | null;
export type Values = Readonly<Record<string, SqlValue>>;

interface Ask<TValues extends Values, TRow> {
  readonly values: TValues;
  readonly row: TRow;
}

/** A call with its key: as it is wrapped, by whom, and that patient's own key as the practice's key wraps it. */
export type LoadedRow = CallRow & {
  readonly snapshot: string | null;
  readonly wrapped_by: PatientId | null;
  readonly wrapped: string | null;
  readonly wrapper: string | null;
};

/** What a turn may change of a call, besides whom it is about. */
export type MovedRow = Pick<CallRow, 'id' | (typeof MOVED)[number]>;

export type HeadRow = Pick<CallRow, 'id' | 'seq' | 'hash'>;

type NoValues = Record<string, never>;

interface CallAsks {
  readonly call: Ask<{ readonly id: CallId }, LoadedRow>;
  /** Nothing changes when the call exists. */
  readonly addCall: Ask<CallRow, never>;
  /** Nothing changes when the call is not at `expected`, or its key is not wrapped as `wrapped` any more ('' for none). */
  readonly moveCall: Ask<MovedRow & { readonly expected: number; readonly wrapped: string }, never>;
  /** Whom the call is about; apart, because it is in an index and hardly ever changes. */
  readonly nameCall: Ask<Pick<CallRow, 'id' | 'patient_id' | 'operation_id'>, never>;
  readonly addEvent: Ask<EventRow, never>;
  /** Nothing changes when the call has a turn with the token. */
  readonly addTurn: Ask<TurnRow, never>;
  readonly turn: Ask<{ readonly call: CallId; readonly token: string }, TurnRow>;
  readonly putSnapshot: Ask<SnapshotRow, never>;
  readonly putPromise: Ask<PromiseRow, never>;
  readonly events: Ask<{ readonly call: CallId }, EventRow>;
  readonly eventsOf: Ask<{ readonly call: CallId; readonly type: string }, EventRow>;
  readonly callsAbout: Ask<{ readonly operation: OperationId; readonly since: Millis }, CallRow>;
  readonly recentCalls: Ask<{ readonly limit: number }, CallRow>;
  readonly promisesOf: Ask<{ readonly call: CallId }, PromiseRow>;
  readonly openPromises: Ask<NoValues, PromiseRow>;
}

interface KeyAsks {
  readonly key: Ask<{ readonly kind: KeyKind; readonly id: string }, KeyRow>;
  /** Nothing changes when the key exists. */
  readonly addKey: Ask<KeyRow, never>;
  readonly putKey: Ask<KeyRow, never>;
  readonly keysWrappedBy: Ask<{ readonly patient: PatientId }, KeyRow>;
  readonly dropKey: Ask<{ readonly kind: KeyKind; readonly id: string }, never>;
}

interface ChainAsks {
  /** Marks every call that moved since the last checkpoint as seen, and answers with those. */
  readonly markMoved: Ask<NoValues, HeadRow>;
  readonly lastCheckpoint: Ask<NoValues, CheckpointRow>;
  /** Nothing changes when there is one with this number. */
  readonly addCheckpoint: Ask<CheckpointRow, never>;
  readonly callsAfter: Ask<{ readonly after: string; readonly limit: number }, HeadRow>;
  readonly strayEvent: Ask<NoValues, Pick<EventRow, 'call' | 'seq'>>;
  readonly checkpointsAfter: Ask<{ readonly after: number; readonly limit: number }, CheckpointRow>;
  readonly hashAt: Ask<{ readonly call: string; readonly seq: number }, Pick<EventRow, 'hash'>>;
}

interface PeopleAsks {
  readonly putPatient: Ask<PatientRow, never>;
  readonly putOperation: Ask<OperationRow, never>;
  readonly patient: Ask<{ readonly id: PatientId }, PatientRow>;
  readonly operation: Ask<{ readonly id: OperationId }, OperationRow>;
  readonly operationsOf: Ask<{ readonly patient: PatientId }, OperationRow>;
  /** With the patient's wrapped key beside, so that a common surname costs one question. */
  readonly patientsWith: Ask<{ readonly token: string }, PatientRow & Pick<KeyRow, 'wrapped'>>;
  readonly countPatients: Ask<NoValues, { readonly patients: number }>;
  /** Nothing changes when it is there. */
  readonly addToken: Ask<TokenRow, never>;
  readonly dropTokens: Ask<{ readonly patient: PatientId }, never>;
  readonly dropPatient: Ask<{ readonly patient: PatientId }, never>;
  readonly dropOperations: Ask<{ readonly patient: PatientId }, never>;
}

interface CallAuditAsks {
  /** Nothing changes when it is there. */
  readonly addAudit: Ask<AuditRow, never>;
  readonly auditsOf: Ask<{ readonly call: CallId }, AuditRow>;
  readonly callsBetween: Ask<
    { readonly since: Millis; readonly until: Millis; readonly limit: number },
    CallRow
  >;
  /** The first event of a call that a person wrote. */
  readonly firstByUser: Ask<{ readonly call: CallId }, Pick<EventRow, 'by'>>;
}

interface AuditAsks {
  readonly addAuditEntry: Ask<AuditEntryRow, never>;
  /** Newest first. */
  readonly auditEntries: Ask<{ readonly before: string; readonly limit: number }, AuditEntryRow>;
  /** By whom, or about whom by a pattern of LIKE. */
  readonly auditEntriesOn: Ask<
    { readonly before: string; readonly limit: number; readonly on: string; readonly pattern: string },
    AuditEntryRow
  >;
}

interface FlowAsks {
  readonly flow: Ask<{ readonly hash: FlowHash }, FlowRow>;
  /** Nothing changes when it is there. */
  readonly addFlow: Ask<FlowRow, never>;
}

interface OutboxAsks {
  /** Nothing changes when it is there. */
  readonly addMessage: Ask<MessageRow, never>;
  /** These two change what is queued only. */
  readonly moveMessage: Ask<{ readonly id: MessageId; readonly due_at: Millis }, never>;
  readonly withdrawMessage: Ask<{ readonly id: MessageId }, never>;
  /** From being sent to sent; nothing changes once it has ended. */
  readonly sentMessage: Ask<Sent, never>;
  readonly endMessage: Ask<Sent & Pick<MessageRow, 'state'>, never>;
  /** The one due longest, now being sent by `by`. */
  readonly claimMessage: Ask<Due & { readonly by: string }, MessageRow>;
  readonly dueMessage: Ask<Due, Pick<MessageRow, 'id'>>;
  readonly releaseMessage: Ask<{ readonly id: MessageId; readonly due_at: Millis }, never>;
  readonly dropMessage: Ask<{ readonly id: MessageId }, never>;
  readonly message: Ask<{ readonly id: MessageId }, MessageRow>;
  readonly recentMessages: Ask<{ readonly limit: number }, MessageRow>;
  readonly textNumber: Ask<{ readonly token: string }, TextNumberRow>;
  /** Nothing changes when it is there. */
  readonly addTextNumber: Ask<TextNumberRow, never>;
  readonly stopTextNumber: Ask<Pick<TextNumberRow, 'token' | 'stopped_at'>, never>;
  /** Nothing changes when the number has moved on from `was`. */
  readonly moveTextNumber: Ask<
    Pick<TextNumberRow, 'token' | 'call' | 'begun_at'> & { readonly was: Millis },
    never
  >;
}

type Sent = Pick<MessageRow, 'id' | 'who' | 'provider_id'>;

/** Claimed at or before `left_before` and never ended: left by a process that died. */
interface Due extends Values {
  readonly now: Millis;
  readonly left_before: Millis;
}

export interface Asks
  extends CallAsks, KeyAsks, ChainAsks, PeopleAsks, FlowAsks, AuditAsks, CallAuditAsks, OutboxAsks {}

export type AskName = keyof Asks;
