/** A reply as it came to one prompt, and the input that it makes. */
import type { HeardInput } from '../call/heard.ts';
import type { Address } from './address.ts';
import type { Reply } from './read-reply.ts';

export interface Came {
  readonly address: Address;
  readonly token: string;
  readonly reply: Reply;
  /** The caller's own number in E.164, or null. */
  readonly number: string | null;
}

export function tokenOf({ turn }: Address): string {
  return `line-${String(turn)}`;
}

/** What was said or keyed, as an input that answers the question, unless it is told otherwise. */
export function heardInput({ address, reply }: Came, changes: Partial<HeardInput> = {}): HeardInput {
  const how = reply.kind === 'keys' || (reply.kind === 'wish' && reply.how === 'keys') ? 'keys' : 'speech';
  const text = reply.kind === 'keys' ? reply.keys : reply.kind === 'silence' ? '' : reply.text;
  const confidence = how === 'keys' ? 1 : reply.kind === 'speech' ? reply.confidence : 0;
  return {
    kind: 'heard',
    question: address.ask === '' ? null : address.ask,
    text,
    confidence,
    how,
    aside: null,
    confirms: null,
    correction: address.fix ? 'mis-keyed' : null,
    ...changes,
  };
}
