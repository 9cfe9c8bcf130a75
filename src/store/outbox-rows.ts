/** Between a message as a turn writes it and its row: sealing under the call's key and the way back. */
import type { CallId, MessageId } from '../basics/ids.ts';
import type { NewMessage, OutboxWrite, StoredMessage } from '../call/outbox.ts';
import type { AskedOf } from './plan.ts';
import type { MessageRow } from './schema.ts';
import { unsealJson } from './sealed-json.ts';
import { seal } from './sealing.ts';
import type { Place } from './sealing.ts';

export type OutboxAsk = AskedOf<
  'addMessage' | 'moveMessage' | 'withdrawMessage' | 'sentMessage' | 'endMessage'
>;

export function outboxAsks(call: CallId, writes: readonly OutboxWrite[], key: Buffer): readonly OutboxAsk[] {
  return writes.map((write) => outboxAsk(call, write, key));
}

function outboxAsk(call: CallId, write: OutboxWrite, key: Buffer): OutboxAsk {
  switch (write.write) {
    case 'add':
      return { name: 'addMessage', values: messageRow(call, write.message, key) };
    case 'move':
      return { name: 'moveMessage', values: { id: write.id, due_at: write.dueAt } };
    case 'withdraw':
      return { name: 'withdrawMessage', values: { id: write.id } };
    case 'settle': {
      const values = { id: write.id, who: write.to, provider_id: write.providerId };
      return write.state === 'sent'
        ? { name: 'sentMessage', values }
        : { name: 'endMessage', values: { ...values, state: write.state } };
    }
  }
}

function messageRow(call: CallId, message: NewMessage, key: Buffer): MessageRow {
  const { id, sealed } = message;
  return {
    id,
    call,
    promise: message.promise,
    kind: message.kind,
    who: message.to,
    template: message.template,
    sealed: sealed === null ? null : seal(key, JSON.stringify(sealed), messagePlace(call, id)),
    due_at: message.dueAt,
    state: 'queued',
    tries: 0,
    claimed_at: null,
    claimed_by: null,
    provider_id: null,
  };
}

/** What was sealed is null when the key is gone. */
export function messageFrom(row: MessageRow, key: Buffer | null): StoredMessage {
  return {
    id: row.id,
    call: row.call,
    promise: row.promise,
    kind: row.kind,
    to: row.who,
    template: row.template,
    sealed: unsealJson(key, row.sealed, messagePlace(row.call, row.id)),
    dueAt: row.due_at,
    state: row.state,
    tries: row.tries,
    claimedAt: row.claimed_at,
    claimedBy: row.claimed_by,
    providerId: row.provider_id,
  };
}

function messagePlace(call: CallId, id: MessageId): Place {
  return ['message', call, id];
}
