/** The words of texts, pages and rings (`flows/words/messages.yaml`), with the practice's numbers filled in. */
import { z } from 'zod';

const text = z.string().trim().min(1).max(600);

export const messageWordsSchema = z.strictObject({
  /** Why a call becomes urgent when nobody could be rung back. */
  notReached: text,
  texts: z.strictObject({
    review: text,
    advice: text,
    received: text,
    noDanger: text,
    emergency: text,
    urgent: text,
    ringing: text,
  }),
  page: z.strictObject({
    greeting: text,
    late: text,
    over: text,
    accept: text,
    accepted: text,
    refused: text,
  }),
  ring: z.strictObject({
    greeting: text,
    nobodyAccepted: text,
    urgent: text,
    emergency: text,
    unanswered: text,
    over: text,
    end: text,
  }),
});
export type MessageWords = z.infer<typeof messageWordsSchema>;

/** What a text or a ring may name: numbers and places, never a patient or what the call is about. */
export interface MessageNames {
  readonly emergency: string;
  readonly line: string;
  readonly place: string;
  readonly address: string;
}

/** A name that nothing fills is a defect: somebody would read or hear it. */
export function filledWith(words: string, names: Readonly<Record<string, string>>): string {
  return words.replace(/\{([a-z]+)\}/g, (_all, name: string) => {
    const value = names[name];
    if (value === undefined) throw new Error(`Nothing fills ${name} in the words of a message`);
    return value;
  });
}
