/**
 * `flows/edges/*.yaml`: a second entry of what matters, written by another hand than the rules: on which days which answers
 * come to what, up to the last day and beyond it, and which words a safety text cannot do without. The prover holds the
 * scripts against it, so that a slip in one of the two is noticed.
 */
import { z } from 'zod';
import { daysSchema, hoursSchema } from './window-text.ts';

const text = z.string().trim().min(1);
const id = z.string().regex(/^[a-z0-9][a-z0-9-]*$/, 'an id of small letters, digits and hyphens');

/** What a row comes to, by its time alone; `none` is advice. */
export const EDGE_OUTCOMES = [
  'none',
  'planned-visit',
  'next-working-day',
  'next-day',
  'same-day',
  '1-hour',
  'now',
  'emergency',
] as const;
export type EdgeOutcome = (typeof EDGE_OUTCOMES)[number];

const comesTo = z.enum(EDGE_OUTCOMES);

const edgeSchema = z.strictObject({
  /** Procedures, or `all` of them. */
  on: z.union([z.literal('all'), z.array(id).min(1)]),
  /** The first and the last of these days are looked at. */
  days: daysSchema,
  hours: z.exactOptional(hoursSchema),
  findings: z.record(id, z.union([z.string(), z.number()])),
  'comes-to': comesTo,
  /** What the same answers come to on the day before the first and the day after the last; left out: not looked at. */
  outside: z.exactOptional(comesTo),
  source: text,
});
export type Edge = z.infer<typeof edgeSchema>;

const pinnedWordsSchema = z.strictObject({
  /** A rule (its until-seen), a question (words and spoken words), or `safety-net` of a topic or procedure. */
  of: z.union([
    z.strictObject({ rule: id }),
    z.strictObject({ question: id }),
    z.strictObject({ 'safety-net': id, day: z.number().int().min(0).max(365) }),
    z.strictObject({ aftercare: id, procedure: id, day: z.number().int().min(0).max(365) }),
  ]),
  'all-of': z.array(text).min(1),
});
export type PinnedWords = z.infer<typeof pinnedWordsSchema>;

export const edgesSchema = z.strictObject({
  edges: z.array(edgeSchema),
  words: z.exactOptional(z.array(pinnedWordsSchema)),
});
export type EdgesFile = z.infer<typeof edgesSchema>;
