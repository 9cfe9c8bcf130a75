/** The outbox and the numbers that text, over any runner. */
import type { Outbox, TextNumbers } from '../follow/outbox.ts';
import type { StoredMessage } from '../call/outbox.ts';
import { keyOf } from './calls.ts';
import type { CallParts } from './calls.ts';
import { messageFrom } from './outbox-rows.ts';
import { claimPlan, stopPlan, textCallPlan } from './outbox-plans.ts';
import { change, rowOf, rowsOf } from './plan.ts';
import type { Plan, Written } from './plan.ts';
import type { MessageRow } from './schema.ts';
import { searchToken } from './sealing.ts';

export function outboxStore(parts: CallParts): Outbox {
  const { runner } = parts;
  return {
    claim: (claiming) => runner.write(() => claimedPlan(claimPlan(claiming), parts)),
    release: (id, dueAt) => runner.write(() => changePlan(change('releaseMessage', { id, due_at: dueAt }))),
    withdraw: (id) => runner.write(() => changePlan(change('dropMessage', { id }))),
    message: (id) =>
      runner.read(function* () {
        const row = yield* rowOf('message', { id });
        return row === null ? null : yield* openedPlan(row, parts);
      }),
    recent: (limit) =>
      runner.read(function* () {
        const messages: StoredMessage[] = [];
        for (const row of yield* rowsOf('recentMessages', { limit })) messages.push(messageFrom(row, null));
        return messages;
      }),
  };
}

function* claimedPlan(
  plan: Plan<Written<MessageRow | null>>,
  parts: CallParts,
): Plan<Written<StoredMessage | null>> {
  const { value } = yield* plan;
  return { keep: true, value: value === null ? null : yield* openedPlan(value, parts) };
}

function* openedPlan(row: MessageRow, parts: CallParts): Plan<StoredMessage> {
  const call = yield* rowOf('call', { id: row.call });
  return messageFrom(row, call === null ? null : keyOf(call, parts));
}

function* changePlan(plan: Plan<number>): Plan<Written<void>> {
  yield* plan;
  return { keep: true, value: undefined };
}

export function textNumbers({ runner, keys }: CallParts): TextNumbers {
  const tokenOf = (number: string): string => searchToken(keys.search, `text:${number}`);
  return {
    isStopped: (number) =>
      runner.read(function* () {
        const row = yield* rowOf('textNumber', { token: tokenOf(number) });
        return row !== null && row.stopped_at !== null;
      }),
    setStopped: (number, stopped, at) => runner.write(() => stopPlan(tokenOf(number), stopped ? at : null)),
    callOf: (number, begin) => runner.write(() => textCallPlan(tokenOf(number), begin)),
  };
}
