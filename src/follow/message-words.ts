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
    broken: text,
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
