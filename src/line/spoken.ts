/** What the line says and does next, as plain data: stored with the turn, rendered for the provider, heard by a test. */
import { z } from 'zod';
import type { Json } from '../basics/json.ts';
import type { Address } from './address.ts';

const addressShape = z.custom<Address>((value) => typeof value === 'object' && value !== null);

const listenSchema = z.object({
  kind: z.literal('listen'),
  /** May be talked over; what keeps somebody safe stands in `say` of the whole. */
  say: z.array(z.string()),
  speech: z.boolean(),
  /** one: a single key; hash: several, ended with hash; eight: a date. */
  digits: z.enum(['one', 'hash', 'eight']),
  hints: z.array(z.string()),
  /** Words of their own, and not an answer of a word or two. */
  open: z.boolean(),
  to: addressShape,
});
export type Listen = z.infer<typeof listenSchema>;

const dialSchema = z.object({
  kind: z.literal('dial'),
  telephone: z.string(),
  /** Who is rung, as the rota names them; `desk` is a nurse. */
  staff: z.string(),
  seconds: z.number(),
  to: addressShape,
});
export type Dial = z.infer<typeof dialSchema>;

const spokenSchema = z.object({
  say: z.array(z.string()),
  then: z.discriminatedUnion('kind', [listenSchema, dialSchema, z.object({ kind: z.literal('end') })]),
});
export type Spoken = z.infer<typeof spokenSchema>;

export function spokenJson(spoken: Spoken): Json {
  return JSON.parse(JSON.stringify(spoken)) as Json;
}

/** Null: a turn that nobody spoke. */
export function readSpoken(reply: unknown): Spoken | null {
  const said = z.object({ said: spokenSchema }).safeParse(reply);
  return said.success ? said.data.said : null;
}
