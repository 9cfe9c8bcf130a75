/** What the practice asks of its telephone provider; without one everything stays in the outbox. */
import type { MessageId } from '../basics/ids.ts';

export interface Sending {
  readonly message: MessageId;
  /** E.164. */
  readonly to: string;
  /** The same for every try of one sending, so that the provider does it once. */
  readonly key: string;
}

/** `again`: the provider could not be asked, and may be asked once more; else it refused. */
export type Sent =
  | { readonly came: 'sent'; readonly providerId: string }
  | { readonly came: 'failed'; readonly again: boolean };

export interface Provider {
  /** Rings a clinician, or the caller; what is said then comes from the line by the message's id. */
  readonly ring: (sending: Sending & { readonly what: 'page' | 'ring' }) => Promise<Sent>;
  readonly text: (sending: Sending & { readonly words: string }) => Promise<Sent>;
}
