/** What running due messages needs from a store: one claim at a time, and the ways back from it. */
import type { Millis } from '../basics/clock.ts';
import type { CallId, MessageId } from '../basics/ids.ts';
import type { Result } from '../basics/result.ts';
import type { StoredMessage } from '../call/outbox.ts';

export interface Claiming {
  readonly now: Millis;
  /** The process that claims. */
  readonly by: string;
  /** What was claimed at or before this moment and never ended was left by a process that died. */
  readonly leftBefore: Millis;
}

export interface Outbox {
  /**
   * The message that has been due longest, marked as being sent by one conditional update, so that of several
   * processes one gets it; null when none is due. One left by a dead process is handed out again.
   */
  readonly claim: (claiming: Claiming) => Promise<Result<StoredMessage | null, 'store-down'>>;
  /** A claimed message goes back and falls due again. */
  readonly release: (id: MessageId, dueAt: Millis) => Promise<Result<void, 'store-down'>>;
  /** A claimed message turned out not to be needed. */
  readonly withdraw: (id: MessageId) => Promise<Result<void, 'store-down'>>;
  readonly message: (id: MessageId) => Promise<Result<StoredMessage | null, 'store-down'>>;
  /** The newest by due time, ended or not. */
  readonly recent: (limit: number) => Promise<Result<readonly StoredMessage[], 'store-down'>>;
}

/** Numbers that text the practice: whether they want no more messages, and which call their texts belong to. */
export interface TextNumbers {
  readonly isStopped: (number: string) => Promise<Result<boolean, 'store-down'>>;
  readonly setStopped: (number: string, stopped: boolean, at: Millis) => Promise<Result<void, 'store-down'>>;
  /** The call that a text of this number belongs to: the one begun since `since`, else `fresh`, which is then kept. */
  readonly callOf: (
    number: string,
    begin: { readonly fresh: CallId; readonly at: Millis; readonly since: Millis },
  ) => Promise<Result<CallId, 'store-down'>>;
}
