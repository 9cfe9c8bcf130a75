/** What leaves the practice or falls due: pages, texts, rings and notices, as the turn that causes them writes them. */
import type { Millis } from '../basics/clock.ts';
import type { CallId, MessageId, PromiseId } from '../basics/ids.ts';
import type { Json } from '../basics/json.ts';

/** `page`: a clinician is rung. `ring`: the caller is rung. `notice`: the desk is told that something is late. */
export type MessageKind = 'page' | 'text' | 'ring' | 'notice';

/**
 * `sent`: the provider took it, nothing more is known. `shown`: kept for the desk to show, nothing left the practice.
 * `withdrawn`: no longer needed when it fell due, or before.
 */
export type MessageState = 'queued' | 'sending' | 'sent' | 'delivered' | 'failed' | 'shown' | 'withdrawn';

export interface NewMessage {
  /** Unique for what it is about, so that the same thing is never queued twice; the provider's idempotency key too. */
  readonly id: MessageId;
  /** What it is about; once that is no longer open, the message is withdrawn instead of sent. */
  readonly promise: PromiseId | null;
  readonly kind: MessageKind;
  /** A staff id, `caller` or `desk`; null is whoever is next on the ladder when it falls due. */
  readonly to: string | null;
  /** Which words, by id. */
  readonly template: string;
  /** Telephone number and whatever names or quotes; under the call's key. */
  readonly sealed: Json | null;
  readonly dueAt: Millis;
}

/** One change of the outbox. What has left already is never called back by a turn. */
export type OutboxWrite =
  | { readonly write: 'add'; readonly message: NewMessage }
  /** Falls due at another time, while it is still queued. */
  | { readonly write: 'move'; readonly id: MessageId; readonly dueAt: Millis }
  /** No longer needed, while it is still queued. */
  | { readonly write: 'withdraw'; readonly id: MessageId }
  | ({ readonly write: 'settle'; readonly id: MessageId } & Settled);

/** How a sending went. A later word about it never takes an earlier end back. */
export interface Settled {
  readonly state: 'sent' | 'delivered' | 'failed' | 'shown';
  /** Who was rung, where the ladder chose; null leaves it. */
  readonly to: string | null;
  readonly providerId: string | null;
}

export interface StoredMessage extends NewMessage {
  readonly call: CallId;
  readonly state: MessageState;
  /** How often somebody began to send it. */
  readonly tries: number;
  readonly claimedAt: Millis | null;
  readonly claimedBy: string | null;
  readonly providerId: string | null;
}
