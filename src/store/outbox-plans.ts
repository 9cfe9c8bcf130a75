/** What is done with the outbox: the writes of a turn, the claim of what is due, and the numbers that text. */
import type { Millis } from '../basics/clock.ts';
import type { CallId } from '../basics/ids.ts';
import type { Claiming } from '../follow/outbox.ts';
import type { OutboxAsk } from './outbox-rows.ts';
import { change, rowOf, rowsOf } from './plan.ts';
import type { Plan, Written } from './plan.ts';
import type { MessageRow } from './schema.ts';

export function* changeOutbox(ask: OutboxAsk): Plan<void> {
  switch (ask.name) {
    case 'addMessage':
      yield* change(ask.name, ask.values);
      return;
    case 'moveMessage':
      yield* change(ask.name, ask.values);
      return;
    case 'withdrawMessage':
      yield* change(ask.name, ask.values);
      return;
    case 'sentMessage':
      yield* change(ask.name, ask.values);
      return;
    case 'endMessage':
      yield* change(ask.name, ask.values);
      return;
  }
}

const CLAIMS_AT_MOST = 50;

/** Another process may take the one that was looked at; then the next is tried, until none is due. */
export function* claimPlan({ now, by, leftBefore }: Claiming): Plan<Written<MessageRow | null>> {
  const due = { now, left_before: leftBefore };
  for (let tries = 0; tries < CLAIMS_AT_MOST; tries += 1) {
    const [claimed] = yield* rowsOf('claimMessage', { ...due, by });
    if (claimed !== undefined) return { keep: true, value: claimed };
    if ((yield* rowOf('dueMessage', due)) === null) break;
  }
  return { keep: true, value: null };
}

interface Beginning {
  readonly fresh: CallId;
  readonly at: Millis;
  readonly since: Millis;
}

/** The first text of a number decides which call all the others belong to, also when several come at once. */
export function* textCallPlan(token: string, { fresh, at, since }: Beginning): Plan<Written<CallId>> {
  yield* change('addTextNumber', { token, call: fresh, begun_at: at, stopped_at: null });
  for (;;) {
    const known = yield* rowOf('textNumber', { token });
    if (known === null) throw new Error('A number that was kept is gone.');
    const { call, begun_at: begun } = known;
    if (call !== null && begun !== null && begun >= since) return { keep: true, value: call };
    const moved = yield* change('moveTextNumber', { token, call: fresh, begun_at: at, was: begun ?? 0 });
    if (moved > 0) return { keep: true, value: fresh };
  }
}

export function* stopPlan(token: string, stoppedAt: Millis | null): Plan<Written<void>> {
  yield* change('addTextNumber', { token, call: null, begun_at: null, stopped_at: stoppedAt });
  yield* change('stopTextNumber', { token, stopped_at: stoppedAt });
  return { keep: true, value: undefined };
}
