/** GET /api/outbox: the newest pages, texts, rings and notices with how they went; without words and numbers. */
import { fault } from '../basics/fault.ts';
import { failed, ok } from '../basics/result.ts';
import type { OutboxAnswer } from './contract/outbox.ts';
import type { Endpoint } from './endpoint.ts';
import { moment } from './show-time.ts';

const SHOWN_AT_MOST = 200;
/** What is due leaves within seconds; a minute later something is wrong. */
const LATE_MILLIS = 60_000;

export const listOutbox: Endpoint = async (deps) => {
  const { practice, outbox, turn } = deps;
  const messages = await outbox.recent(SHOWN_AT_MOST);
  if (!messages.ok) return failed(fault('store-down', 'The messages cannot be read now.'));
  const now = turn.clock.now();
  const answer: OutboxAnswer = {
    messages: messages.value.map(({ id, call, kind, template, state, to, dueAt, tries }) => ({
      id,
      call,
      kind,
      template,
      state,
      to: practice.staff.find((staff) => staff.id === to)?.name ?? to,
      due: moment(dueAt, { now, zone: practice.zone }),
      overdue: (state === 'queued' || state === 'sending') && dueAt + LATE_MILLIS < now,
      tries,
    })),
  };
  return ok(answer);
};
