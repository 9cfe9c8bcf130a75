/** What the outgoing rings and the text messages need besides the line; given by whoever composes the program. */
import type { MessageId } from '../basics/ids.ts';
import type { StoredMessage } from '../call/outbox.ts';
import type { MessageWords } from '../follow/message-words.ts';
import type { Outbox, TextNumbers } from '../follow/outbox.ts';
import type { LineDeps } from './deps.ts';

export interface ReachDeps {
  readonly line: LineDeps;
  readonly outbox: Pick<Outbox, 'message'>;
  readonly numbers: TextNumbers;
  readonly messageWords: MessageWords;
  /** What the words may name, as it is written in a text. */
  readonly names: Readonly<Record<string, string>>;
  /** What is texted back when the message could not be kept. */
  readonly broken: string;
}

/** The message that a request of the provider is about, as its address names it; null when there is none. */
export async function messageOf(
  { outbox }: ReachDeps,
  query: Readonly<Record<string, unknown>>,
): Promise<StoredMessage | null> {
  const id = query['message'];
  if (typeof id !== 'string' || id === '') return null;
  const found = await outbox.message(id as MessageId);
  return found.ok ? found.value : null;
}
