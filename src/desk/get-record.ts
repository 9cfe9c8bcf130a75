/** GET /api/calls/:id/record: the call re-read from its events alone. */
import { fault } from '../basics/fault.ts';
import type { Json } from '../basics/json.ts';
import { failed, ok } from '../basics/result.ts';
import type { StoredEvent } from '../call/call-store.ts';
import type { RecordAnswer } from './contract/record.ts';
import type { Endpoint } from './endpoint.ts';
import { callIdOf } from './read-call.ts';
import { moment, type Here } from './show-time.ts';

export const getRecord: Endpoint = async (deps, { id }) => {
  const events = await deps.turn.store.events(callIdOf(id));
  if (!events.ok) return failed(fault('store-down', 'The record cannot be read now.'));
  if (events.value.length === 0) return failed(fault('not-found', 'There is no such call.'));
  const here: Here = { now: deps.turn.clock.now(), zone: deps.practice.zone };
  const answer: RecordAnswer = { id, lines: events.value.map((event) => line(event, here)) };
  return ok(answer);
};

function line(event: StoredEvent, here: Here): RecordAnswer['lines'][number] {
  return {
    seq: event.seq,
    at: moment(event.at, here),
    by: event.by,
    what: event.type.replaceAll('-', ' '),
    details: event.erased
      ? [...details(event.open), 'erased']
      : [...details(event.open), ...details(event.sealed)],
  };
}

function details(value: Json | null): readonly string[] {
  if (value === null) return [];
  if (typeof value !== 'object') return [String(value)];
  if (Array.isArray(value)) return value.flatMap((one: Json) => details(one));
  return Object.entries(value).flatMap(([key, inner]) => details(inner).map((text) => `${key}: ${text}`));
}
