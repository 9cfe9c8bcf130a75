/** Answers the asks about the outbox and the numbers that text from tables in memory. */
import type { MessageId } from '../basics/ids.ts';
import { changed, compare, many, one } from './memory-answer.ts';
import type { Handlers, MemoryAnswer } from './memory-answer.ts';
import type { MemoryTable } from './memory-table.ts';
import type { MemoryTables } from './memory-tables.ts';
import type { MessageRow } from './schema.ts';

type OutboxHandlers = Handlers<
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
>;

export function outboxHandlers({ outbox }: MemoryTables): OutboxHandlers {
  const change = changeOn(outbox);
  const longestDue = ({ now, left_before: leftBefore }: { now: number; left_before: number }) =>
    outbox
      .all()
      .filter((row) => isDue(row, now, leftBefore))
      .toSorted(byDue)
      .at(0);
  return {
    addMessage: (row) => changed(outbox.add(row)),
    moveMessage: ({ id, due_at: dueAt }) => change(id, ['queued'], { due_at: dueAt }),
    withdrawMessage: ({ id }) => change(id, ['queued'], { state: 'withdrawn' }),
    sentMessage: ({ id, ...sent }) => change(id, ['queued', 'sending'], { ...given(sent), state: 'sent' }),
    endMessage: ({ id, state, ...sent }) =>
      change(id, ['queued', 'sending', 'sent'], { ...given(sent), state }),
    releaseMessage: ({ id, due_at: dueAt }) => change(id, ['sending'], { state: 'queued', due_at: dueAt }),
    dropMessage: ({ id }) => change(id, ['sending'], { state: 'withdrawn' }),
    dueMessage: (due) => one(longestDue(due)),
    claimMessage: ({ now, by, left_before: leftBefore }) => {
      const row = longestDue({ now, left_before: leftBefore });
      if (row === undefined) return many([]);
      const claimed: MessageRow = {
        ...row,
        state: 'sending',
        claimed_at: now,
        claimed_by: by,
        tries: row.tries + 1,
      };
      outbox.put(claimed);
      return one(claimed);
    },
    message: ({ id }) => one(outbox.get(id)),
    recentMessages: ({ limit }) => many(outbox.all().toSorted(byDue).toReversed().slice(0, limit)),
  };
}

type Change = (
  id: MessageId,
  from: readonly MessageRow['state'][],
  to: Partial<MessageRow>,
) => MemoryAnswer<never>;

function changeOn(outbox: MemoryTable<MessageRow>): Change {
  return (id, from, to) => {
    const row = outbox.get(id);
    if (row === undefined || !from.includes(row.state)) return changed(0);
    outbox.put({ ...row, ...to });
    return changed(1);
  };
}

/** Null leaves what is there. */
function given(sent: Pick<MessageRow, 'who' | 'provider_id'>): Partial<MessageRow> {
  return {
    ...(sent.who === null ? {} : { who: sent.who }),
    ...(sent.provider_id === null ? {} : { provider_id: sent.provider_id }),
  };
}

function isDue(row: MessageRow, now: number, leftBefore: number): boolean {
  if (row.state === 'queued') return row.due_at <= now;
  return row.state === 'sending' && row.claimed_at !== null && row.claimed_at <= leftBefore;
}

function byDue(a: MessageRow, b: MessageRow): number {
  return a.due_at - b.due_at || compare(a.id, b.id);
}

type NumberHandlers = Handlers<'textNumber' | 'addTextNumber' | 'stopTextNumber' | 'moveTextNumber'>;

export function textNumberHandlers({ textNumbers }: MemoryTables): NumberHandlers {
  return {
    textNumber: ({ token }) => one(textNumbers.get(token)),
    addTextNumber: (row) => changed(textNumbers.add(row)),
    stopTextNumber: ({ token, stopped_at: stoppedAt }) => {
      const row = textNumbers.get(token);
      if (row === undefined) return changed(0);
      textNumbers.put({ ...row, stopped_at: stoppedAt });
      return changed(1);
    },
    moveTextNumber: ({ token, call, begun_at: begunAt, was }) => {
      const row = textNumbers.get(token);
      if (row === undefined || (row.begun_at ?? 0) !== was) return changed(0);
      textNumbers.put({ ...row, call, begun_at: begunAt });
      return changed(1);
    },
  };
}
