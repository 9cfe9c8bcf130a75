/**
 * Whether words are denied, past, only supposed, or about somebody else. Begun from NegEx (Chapman 2001) and ConText
 * (Harkema 2009): triggers reach over what stands before or after them until a stop, and a longer trigger keeps a shorter
 * one inside it from counting.
 */
import type { Word } from './fold-words.ts';
import type { Lexicon, Trigger } from './lexicon.ts';
import { findPatterns, indexPatterns, type PatternIndex, type Span } from './patterns.ts';

export interface Scope {
  readonly negated: boolean;
  readonly historical: boolean;
  /** "This morning", "just now": a time within the last day was said. */
  readonly recent: boolean;
  readonly hypothetical: boolean;
  readonly other: boolean;
  /** "It's gone", "not any more": it was there and is over. */
  readonly resolved: boolean;
  /** "Two days ago": a time was said that may lie more than a day back. */
  readonly dated: boolean;
  /** "Not sure if". */
  readonly doubtful: boolean;
  /** The triggers that decided it, as they stand in the lexicon. */
  readonly because: readonly string[];
}

export interface PlacedTrigger extends Span {
  readonly trigger: Trigger;
}

export type Register = 'spoken' | 'written';
export type TriggerIndex = PatternIndex<Trigger>;

export function indexTriggers({ triggers, classes }: Lexicon, register: Register): TriggerIndex {
  return indexPatterns(
    triggers
      .filter((trigger) => trigger.register === 'any' || trigger.register === register)
      .map((trigger) => ({ says: trigger.says, means: trigger })),
    classes,
  );
}

/** Where triggers stand; of those that overlap the longest counts, and every sense of that place with it. */
export function placeTriggers(index: TriggerIndex, words: readonly Word[]): readonly PlacedTrigger[] {
  const found = findPatterns(index, words);
  return found
    .filter(
      (one) =>
        !found.some(
          (other) =>
            other.start <= one.start && other.end >= one.end && other.end - other.start > one.end - one.start,
        ),
    )
    .map(({ means, start, end }) => ({ trigger: means, start, end }));
}

/** Decides whether what stands between a trigger and the words lets it through. */
export type Reaches = (placed: PlacedTrigger, span: Span) => boolean;

export function scopeOf(placed: readonly PlacedTrigger[], span: Span, reaches: Reaches): Scope {
  const reaching = placed.filter(
    (one) => one.trigger.sets !== 'nothing' && one.trigger.sets !== 'stop' && reaches(one, span),
  );
  const has = (sets: Trigger['sets']): boolean => reaching.some(({ trigger }) => trigger.sets === sets);
  return {
    negated: has('negated'),
    historical: has('historical'),
    recent: has('recent'),
    hypothetical: has('hypothetical'),
    other: has('other'),
    resolved: has('resolved'),
    dated: has('dated'),
    doubtful: has('doubtful'),
    because: reaching.map(({ trigger }) => `${trigger.sets}: ${trigger.says}`),
  };
}

/** True where the trigger stands on the side from which it reaches. */
export function isOnItsSide({ trigger, start }: PlacedTrigger, span: Span): boolean {
  // A trigger may share its last words with what it denies: "haven't had a fit".
  const before = start < span.start && trigger.reach !== 'backward';
  const after = start >= span.end && trigger.reach !== 'forward';
  return before || after;
}
