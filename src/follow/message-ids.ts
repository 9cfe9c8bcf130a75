/** The names of messages: made of what they are about, so that the same thing is never queued twice. */
import type { CallId, MessageId, PromiseId } from '../basics/ids.ts';

export const messageIds = {
  page: (promise: string, n: number): MessageId => named('page', promise, String(n)),
  /** The caller is rung because no clinician accepted. */
  nobodyAccepted: (promise: string): MessageId => named('ring', promise),
  /** The caller is rung at once: the outcome came by text. */
  urgentByText: (promise: string): MessageId => named('ring-now', promise),
  /** The caller is rung because the danger question by text was not answered. */
  unanswered: (call: CallId): MessageId => named('ring-unanswered', call),
  late: (promise: PromiseId, dueAt: number): MessageId => named('late', promise, String(dueAt)),
  latePage: (promise: PromiseId, dueAt: number): MessageId => named('late-page', promise, String(dueAt)),
  notReached: (promise: PromiseId): MessageId => named('not-reached', promise),
  reviewText: (promise: PromiseId): MessageId => named('text-review', promise),
  adviceText: (call: CallId): MessageId => named('text-advice', call),
} as const;

function named(...parts: readonly string[]): MessageId {
  return parts.join(':') as MessageId;
}
