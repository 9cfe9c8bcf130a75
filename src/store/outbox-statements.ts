/** The statements behind every ask about the outbox and the numbers that text. */
import { sql } from 'kysely';
import type { Kysely } from 'kysely';
import { MESSAGE, TEXT_NUMBER } from './columns.ts';
import type { Tables } from './schema.ts';
import { slot, slots } from './statement.ts';
import type { Queries } from './statement.ts';

type OutboxQueries = Queries<
  | 'addMessage'
  | 'moveMessage'
  | 'withdrawMessage'
  | 'sentMessage'
  | 'endMessage'
  | 'claimMessage'
  | 'dueMessage'
  | 'releaseMessage'
  | 'dropMessage'
  | 'message'
  | 'recentMessages'
  | 'textNumber'
  | 'addTextNumber'
  | 'stopTextNumber'
  | 'moveTextNumber'
>;

export function outboxQueries(db: Kysely<Tables>): OutboxQueries {
  return { ...changes(db), ...claims(db), ...reads(db), ...numbers(db) };
}

const QUEUED = sql<boolean>`state = 'queued'`;
const SENDING = sql<boolean>`state = 'sending'`;

function changes(db: Kysely<Tables>) {
  const update = db.updateTable('outbox').where('id', '=', slot('id'));
  const sent = {
    who: sql<string | null>`coalesce(${slot('who')}, who)`,
    provider_id: sql<string | null>`coalesce(${slot('provider_id')}, provider_id)`,
  };
  return {
    addMessage: db
      .insertInto('outbox')
      .values(slots(MESSAGE))
      .onConflict((conflict) => conflict.doNothing()),
    moveMessage: update.set({ due_at: slot('due_at') }).where(QUEUED),
    withdrawMessage: update.set({ state: sql.lit('withdrawn') }).where(QUEUED),
    sentMessage: update
      .set({ ...sent, state: sql.lit('sent') })
      .where(sql<boolean>`state in ('queued', 'sending')`),
    endMessage: update
      .set({ ...sent, state: slot('state') })
      .where(sql<boolean>`state in ('queued', 'sending', 'sent')`),
    releaseMessage: update.set({ state: sql.lit('queued'), due_at: slot('due_at') }).where(SENDING),
    dropMessage: update.set({ state: sql.lit('withdrawn') }).where(SENDING),
  };
}

/** Waiting and due, or left by a process that died. */
function due() {
  return sql<boolean>`((state = 'queued' and due_at <= ${slot('now')})
    or (state = 'sending' and claimed_at <= ${slot('left_before')}))`;
}

function claims(db: Kysely<Tables>) {
  const longest = db
    .selectFrom('outbox')
    .select('id')
    .where(due())
    .orderBy('due_at')
    .orderBy('id')
    .limit(sql.lit(1));
  return {
    dueMessage: longest,
    claimMessage: db
      .updateTable('outbox')
      .set({
        state: sql.lit('sending'),
        claimed_at: slot('now'),
        claimed_by: slot('by'),
        tries: sql<number>`tries + 1`,
      })
      .where('id', '=', longest)
      .where(due())
      .returning(MESSAGE),
  };
}

function reads(db: Kysely<Tables>) {
  const messages = db.selectFrom('outbox').select(MESSAGE);
  return {
    message: messages.where('id', '=', slot('id')),
    recentMessages: messages.orderBy('due_at', 'desc').orderBy('id', 'desc').limit(slot('limit')),
  };
}

function numbers(db: Kysely<Tables>) {
  const update = db.updateTable('text_numbers').where('token', '=', slot('token'));
  return {
    textNumber: db.selectFrom('text_numbers').select(TEXT_NUMBER).where('token', '=', slot('token')),
    addTextNumber: db
      .insertInto('text_numbers')
      .values(slots(TEXT_NUMBER))
      .onConflict((conflict) => conflict.doNothing()),
    stopTextNumber: update.set({ stopped_at: slot('stopped_at') }),
    moveTextNumber: update
      .set({ call: slot('call'), begun_at: slot('begun_at') })
      .where(sql<boolean>`coalesce(begun_at, 0) = ${slot('was')}`),
  };
}
