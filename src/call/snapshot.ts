/** The only way from stored JSON to a machine's snapshot: shape checked, state known, then resolved. */
import { z } from 'zod';
import type { Json } from '../basics/json.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import { contextSchema, type CallContext } from './context.ts';
import type { CallMachine } from './machine.ts';

const storedSchema = z.strictObject({
  flow: z.string(),
  value: z.union([z.string(), z.record(z.string(), z.string())]),
  context: contextSchema,
});

export type Snapshot = ReturnType<CallMachine['resolveState']>;

export interface Stored {
  readonly flow: string;
  readonly value: string | Readonly<Record<string, string>>;
  readonly context: CallContext;
}

export function toStored(flow: string, snapshot: Snapshot): Stored {
  const value = storedSchema.shape.value.parse(snapshot.value);
  return { flow, value, context: snapshot.context };
}

/** What is stored is plain data all through, as its schema says; the store writes it as text. */
export function toJson(stored: Stored): Json {
  return stored as unknown as Json;
}

/** A snapshot of another flow, of a state that no longer exists, or of another shape is refused. */
export function readStored(json: Json, flow: string): Result<Stored, 'unfit'> {
  const parsed = storedSchema.safeParse(json);
  return parsed.success && parsed.data.flow === flow ? ok(parsed.data) : failed('unfit');
}

export function resolve(machine: CallMachine, stored: Pick<Stored, 'value' | 'context'>): Snapshot {
  return machine.resolveState({ value: stored.value, context: stored.context });
}
