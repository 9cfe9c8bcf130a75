/** Deadlines of reviews and call-backs as rows: the desk is told when one is late, then the clinician on call. */
import type { Millis } from '../basics/clock.ts';
import type { PromiseKind } from '../call/call-store.ts';
import type { PromiseMade } from '../call/context.ts';
import { MINUTE } from '../basics/civil-time.ts';
import { saysNo } from '../call/text-words.ts';
import type { TurnMade } from '../call/following.ts';
import type { NewMessage, OutboxWrite } from '../call/outbox.ts';
import { messageIds } from './message-ids.ts';

export interface Late {
  readonly lateMillis: Millis;
  readonly textAnswerMillis: Millis;
}

/** Somebody cut off whom nobody reached in three tries within 15 minutes is urgent (practice rule). */
const NOT_REACHED_MILLIS = 15 * MINUTE;

const KINDS = ['review', 'call-back'] as const satisfies readonly PromiseKind[];

/** A deadline that has moved leaves its old row behind; when that falls due it finds the promise not late, and ends. */
export function deadlinesAfter(late: Late, made: TurnMade): readonly OutboxWrite[] {
  const messages = KINDS.flatMap((kind) => {
    const before = made.before?.context.promises[kind];
    const after = made.after.context.promises[kind];
    if (after?.state !== 'open' || after.dueAt === null) return [];
    if (before?.id === after.id && before.dueAt === after.dueAt) return [];
    return lateMessages(late, after, after.dueAt);
  });
  return [...messages.map((message) => ({ write: 'add' as const, message })), ...unanswered(late, made)];
}

function lateMessages(late: Late, promise: PromiseMade, dueAt: Millis): readonly NewMessage[] {
  const about = { promise: promise.id, sealed: null };
  const notice: NewMessage = {
    ...about,
    id: messageIds.late(promise.id, dueAt),
    kind: 'notice',
    to: 'desk',
    template: 'late',
    dueAt,
  };
  if (promise.reason === 'cut-off' && dueAt - promise.openedAt < NOT_REACHED_MILLIS) {
    const id = messageIds.notReached(promise.id);
    const at = promise.openedAt + NOT_REACHED_MILLIS;
    return [notice, { ...about, id, kind: 'notice', to: 'desk', template: 'not-reached', dueAt: at }];
  }
  const id = messageIds.latePage(promise.id, dueAt);
  const at = dueAt + late.lateMillis;
  return [notice, { ...about, id, kind: 'page', to: null, template: 'late', dueAt: at }];
}

/** By text, every first message is answered with a danger question; without an answer the caller is rung. */
function unanswered(late: Late, made: TurnMade): readonly OutboxWrite[] {
  const { channel, input, call, stamp, after } = made;
  if (channel !== 'text') return [];
  const id = messageIds.unanswered(call);
  if (input.kind === 'heard' && saysNo(input.text)) return [{ write: 'withdraw', id }];
  const promise = after.context.promises['call-back'];
  if (input.kind !== 'opening' || promise === undefined) return [];
  const dueAt = stamp.at + late.textAnswerMillis;
  const about = { promise: promise.id, kind: 'ring', to: 'caller', sealed: null } as const;
  return [{ write: 'add', message: { ...about, id, template: 'unanswered', dueAt } }];
}
