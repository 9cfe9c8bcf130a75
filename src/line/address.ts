/** The address of one turn, as it stands in an action: the provider signs it, so nothing is kept between turns. */
import { z } from 'zod';
import type { CallId } from '../basics/ids.ts';

const small = z.coerce.number().int().min(0).max(99);
const flag = z.enum(['0', '1']).transform((one) => one === '1');

/** What the next reply is a reply to. */
const STEPS = ['question', 'confirm', 'born', 'operation', 'day', 'said-back', 'text', 'dial'] as const;

const addressSchema = z.object({
  call: z
    .string()
    .min(1)
    .max(64)
    .transform((id) => id as CallId),
  /** Counts the prompts of a call; the token of the turn. */
  turn: z.coerce.number().int().min(1).max(9999),
  step: z.enum(STEPS),
  /** The question that was put; empty when the step belongs to none. */
  ask: z.string().max(80),
  /** How often it was put without an answer. */
  tries: small,
  /** One key is the whole reply, so that 7 and 9 are wishes and no digits. */
  single: flag,
  /** Keys only: asked for, or the third try. */
  keys: flag,
  /** The caller's number is that of a patient. */
  known: flag,
  /** The patient whose birth date was keyed; empty when nobody's was. */
  who: z.string().max(64),
  /** The operation that was named, by its place in the list; 0 when none was. */
  operation: small,
  /** The answer that was read back; empty when none was. */
  value: z.string().max(60),
  /** The answer replaces one that was misheard. */
  fix: flag,
  /** Which rung is rung; 0 is the first. */
  rung: small,
  /** Until when the caller is kept waiting, UTC milliseconds; 0 when nobody was rung yet. */
  until: z.coerce.number().int().min(0),
});
export type Address = z.infer<typeof addressSchema>;

export function firstAddress(call: CallId, known: boolean): Address {
  return {
    call,
    turn: 1,
    step: 'question',
    ask: '',
    tries: 0,
    single: true,
    keys: false,
    known,
    who: '',
    operation: 0,
    value: '',
    fix: false,
    rung: 0,
    until: 0,
  };
}

export function writeAddress(path: string, address: Address): string {
  const query = new URLSearchParams(
    Object.entries(address).map(([name, value]): [string, string] => [
      name,
      typeof value === 'boolean' ? (value ? '1' : '0') : String(value),
    ]),
  );
  return `${path}?${query.toString()}`;
}

/** Null: not an address that the line has written. */
export function readAddress(query: unknown): Address | null {
  const read = addressSchema.safeParse(query);
  return read.success ? read.data : null;
}

/** Where the reply to the next prompt goes: the same call, the next turn, nothing left of the last one. */
export function nextAddress(address: Address, changes: Partial<Address>): Address {
  const fresh = { step: 'question', ask: '', tries: 0, value: '', fix: false } as const;
  return { ...address, ...fresh, turn: address.turn + 1, ...changes };
}
