/** Whether one call's events, or one checkpoint, still are what was written; pure, and the first fault names the place. */
import type { BrokenLink } from '../call/call-store.ts';
import type { HeadRow } from './asks.ts';
import { checkpointHash, eventHash } from './record-hash.ts';
import type { CheckpointRow, EventRow } from './schema.ts';

/** A call as a checkpoint saw it. */
export interface SeenHead {
  readonly call: string;
  readonly seq: number;
  readonly hash: string;
}

export function brokenCall(head: HeadRow, events: readonly EventRow[]): BrokenLink | null {
  let prev = '';
  for (const [index, event] of events.entries()) {
    const what = brokenEvent(event, { seq: index + 1, prev });
    if (what !== null) return { call: head.id, seq: index + 1, what };
    prev = event.hash;
  }
  return brokenEnd(head, { seq: events.length, hash: prev });
}

function brokenEvent(
  event: EventRow,
  expected: { readonly seq: number; readonly prev: string },
): string | null {
  if (event.seq !== expected.seq) return 'The event is missing.';
  if (eventHash(event) !== event.hash) return 'The event was changed after it was written.';
  if (event.prev !== expected.prev) return 'The event does not follow from the event before it.';
  return null;
}

function brokenEnd(head: HeadRow, end: { readonly seq: number; readonly hash: string }): BrokenLink | null {
  if (end.seq < head.seq) return { call: head.id, seq: end.seq + 1, what: 'The event is missing.' };
  if (end.seq > head.seq)
    return { call: head.id, seq: head.seq + 1, what: 'The call does not know of the event.' };
  if (end.hash !== head.hash)
    return { call: head.id, seq: head.seq, what: 'The call knows another last event.' };
  return null;
}

export function brokenCheckpoint(row: CheckpointRow, before: CheckpointRow | null): BrokenLink | null {
  const n = (before?.n ?? 0) + 1;
  if (row.n !== n) return { call: null, seq: null, what: `Checkpoint ${String(n)} is missing.` };
  if (checkpointHash(row) !== row.hash)
    return { call: null, seq: null, what: `Checkpoint ${String(n)} was changed.` };
  if (row.prev !== (before?.hash ?? '')) {
    return { call: null, seq: null, what: `Checkpoint ${String(n)} does not follow from the one before it.` };
  }
  return null;
}

export function headsText(heads: readonly HeadRow[]): string {
  return JSON.stringify(heads.map((head) => [head.id, head.seq, head.hash]));
}

// Read only after the checkpoint's own hash held, so the text is one that headsText wrote.
export function headsOf(row: CheckpointRow): readonly SeenHead[] {
  const heads = JSON.parse(row.heads) as readonly (readonly [string, number, string])[];
  return heads.map(([call, seq, hash]) => ({ call, seq, hash }));
}
