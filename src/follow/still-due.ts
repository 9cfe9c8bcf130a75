/** Whether a message that falls due is still needed: what it is about may be over, or due at another time. */
import type { CallContext, PromiseMade } from '../call/context.ts';
import type { StoredMessage } from '../call/outbox.ts';
import { messageIds } from './message-ids.ts';

export function isStillDue(message: StoredMessage, { promises }: CallContext): boolean {
  if (message.promise === null) return true;
  const about = [promises.escalation, promises.review, promises['call-back']];
  const promise = about.find((one) => one?.id === message.promise);
  // A text about a visit is still wanted when the visit has been booked meanwhile.
  if (message.kind === 'text') return promise !== undefined;
  if (promise?.state !== 'open') return false;
  return message.template !== 'late' || isForThisTime(message, promise);
}

/** The deadline has not been moved since. */
function isForThisTime({ id }: StoredMessage, { id: promise, dueAt }: PromiseMade): boolean {
  if (dueAt === null) return false;
  return id === messageIds.late(promise, dueAt) || id === messageIds.latePage(promise, dueAt);
}
