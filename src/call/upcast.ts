/** Reads an event of any released version as the newest one: one step a version, nothing skipped. */
import type { Json } from '../basics/json.ts';
import { EVENT_VERSIONS, type EventType } from './events.ts';
import type { StoredEvent } from './call-store.ts';

export interface ReadableEvent {
  readonly type: EventType;
  readonly open: Json;
  readonly sealed: Json | null;
}

type Upcast = (open: Json) => Json;

/** `type -> [from v1 to v2, from v2 to v3 ...]`; empty while every type is at its first version. */
const STEPS: Readonly<Partial<Record<EventType, readonly Upcast[]>>> = {};

/** Throws on a type or version that no release wrote: the record is not guessed at. */
export function readEvent(stored: StoredEvent): ReadableEvent {
  const { type } = stored;
  if (!isEventType(type)) throw new Error(`No release wrote an event of type ${type}`);
  if (stored.v < 1 || stored.v > EVENT_VERSIONS[type]) {
    throw new Error(`No release wrote version ${stored.v} of ${type}`);
  }
  const steps = (STEPS[type] ?? []).slice(stored.v - 1);
  return { type, open: steps.reduce((open, up) => up(open), stored.open), sealed: stored.sealed };
}

function isEventType(type: string): type is EventType {
  return Object.hasOwn(EVENT_VERSIONS, type);
}
