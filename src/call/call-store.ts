/**
 * What a turn needs from a store: one write that keeps all of a turn or none of it, and the reads before it.
 * No interface hands out a transaction or takes a callback.
 */
import type { CallId, FlowHash, OperationId, PatientId, PromiseId } from '../basics/ids.ts';
import type { Json } from '../basics/json.ts';
import type { Millis } from '../basics/clock.ts';
import type { Result } from '../basics/result.ts';
import type { OutboxWrite } from './outbox.ts';

/** Who did it: a staff id, or the channel that acted by itself. */
export type Actor = `user:${string}` | 'line' | 'text' | 'terminal' | 'system';

/** `trial`: the line as somebody tries it; never dialled, and no part of any figures. */
export type Channel = 'desk' | 'line' | 'trial' | 'text' | 'terminal' | 'replay';
export type Direction = 'patient-rang' | 'planned-check' | 'call-back';

/** The columns of a call that lists and look-ups read. Everything else is in its events. */
export interface CallHead {
  readonly channel: Channel;
  readonly direction: Direction;
  readonly startedAt: Millis;
  /** IANA name of the practice's zone. */
  readonly zone: string;
  readonly patientId: PatientId | null;
  readonly operationId: OperationId | null;
  readonly flowHash: FlowHash;
  readonly lexiconHash: string;
  readonly programVersion: string;
  readonly state: 'open' | 'closed';
  /** The outcome as it stands, as `outcome/within/emergency` text, or null while the questions go on. */
  readonly outcome: string | null;
  /** The concern that led, or null; what "the same problem" is compared by. */
  readonly about: string | null;
}

/** An event as the call machine makes it. `open` holds ids, values and points; whatever names or quotes is `sealed`. */
export interface NewEvent {
  readonly type: string;
  readonly v: number;
  readonly at: Millis;
  readonly by: Actor;
  readonly open: Json;
  readonly sealed: Json | null;
}

export interface StoredEvent extends NewEvent {
  readonly call: CallId;
  /** 1, 2, 3 ... without a gap within a call. */
  readonly seq: number;
  /** True when the key is gone: `sealed` is null although something was sealed. */
  readonly erased: boolean;
  readonly hash: string;
}

export type PromiseKind = 'escalation' | 'review' | 'call-back';

/** An open promise that follows from an outcome: who owns it, by when, and how it ended. */
export interface PromiseWrite {
  readonly id: PromiseId;
  readonly kind: PromiseKind;
  readonly openedAt: Millis;
  readonly dueAt: Millis | null;
  readonly owner: string;
  readonly state: 'open' | 'done' | 'withdrawn';
  /** Ids and values only. */
  readonly open: Json;
}

export interface StoredPromise extends PromiseWrite {
  readonly call: CallId;
}

export interface TurnWrite {
  readonly call: CallId;
  /** The last sequence number that the turn was computed from; 0 for a call that does not exist yet. */
  readonly expectedSeq: number;
  /** What is sealed in the call went into the turn: when it was erased meanwhile, the turn is stale. */
  readonly sealedRead: boolean;
  /** Unique in its call; the same token is answered with the same stored reply. */
  readonly token: string;
  /**
   * The head as it is after the turn. With `expectedSeq` 0 the call is created with it; channel, direction, start and
   * zone stay as they were then.
   */
  readonly head: CallHead;
  readonly events: readonly NewEvent[];
  /** A cache of the machine's state, rebuilt from the events when it does not fit. */
  readonly snapshot: Json;
  readonly reply: Json;
  /** Opened or changed by this turn; one with a known id replaces it. */
  readonly promises: readonly PromiseWrite[];
  /** What is to be sent or falls due because of it, in the order of writing. */
  readonly messages: readonly OutboxWrite[];
}

export interface Committed {
  readonly seq: number;
}

export interface LoadedCall {
  readonly call: CallId;
  readonly head: CallHead;
  readonly seq: number;
  /** Sealed at rest under the call's key; null when the key is gone. */
  readonly snapshot: Json | null;
}

export interface CallStore {
  /**
   * All of the turn or none of it, durable when it resolves.
   * `stale`: the call is not at `expectedSeq` (or exists already). `seen`: the token has a reply already.
   */
  readonly commit: (turn: TurnWrite) => Promise<Result<Committed, 'stale' | 'seen' | 'store-down'>>;
  readonly load: (call: CallId) => Promise<Result<LoadedCall | null, 'store-down'>>;
  readonly replyTo: (call: CallId, token: string) => Promise<Result<Json | null, 'store-down'>>;
  /** In order of `seq`. */
  readonly events: (call: CallId) => Promise<Result<readonly StoredEvent[], 'store-down'>>;
  /** Those of one type only, in order of `seq`. */
  readonly eventsOf: (call: CallId, type: string) => Promise<Result<readonly StoredEvent[], 'store-down'>>;
  /** Calls about one operation that started at or after `since`, newest first. */
  readonly callsAbout: (
    operation: OperationId,
    since: Millis,
  ) => Promise<Result<readonly LoadedHead[], 'store-down'>>;
  /** The newest calls of all, for the log. */
  readonly recent: (limit: number) => Promise<Result<readonly LoadedHead[], 'store-down'>>;
  readonly promisesOf: (call: CallId) => Promise<Result<readonly StoredPromise[], 'store-down'>>;
  /** Every open promise, earliest due first. */
  readonly openPromises: () => Promise<Result<readonly StoredPromise[], 'store-down'>>;
}

export interface LoadedHead {
  readonly call: CallId;
  readonly head: CallHead;
}

/** The record chain as `verify-log` and the checkpoint worker see it. */
export interface RecordChain {
  /** Hashes the heads of the calls changed since the last checkpoint into one new row; false when none changed. */
  readonly checkpoint: (at: Millis) => Promise<Result<boolean, 'store-down'>>;
  /** Walks every call's chain and every checkpoint; the first broken link, or null when all hold. */
  readonly firstBrokenLink: (
    progress: (calls: number) => void,
  ) => Promise<Result<BrokenLink | null, 'store-down'>>;
}

export interface BrokenLink {
  readonly call: CallId | null;
  readonly seq: number | null;
  readonly what: string;
}
