/** What a lexicon is: what callers say and what it means, as plain data: phrases, scope, replies, measures. */
import type { FindingId, FindingValue } from '../clinical/finding.ts';

export interface LexiconPhrase {
  readonly finding: FindingId;
  /** What the words state; null where they only count when denied ("no redness"). */
  readonly value: FindingValue | null;
  /** What denying the words states; null where a denial leaves the finding unknown. */
  readonly denied: FindingValue | null;
  /**
   * As people say it. ` ... ` stands for up to five further words in the same clause, `@name` for any member of a
   * class, ` & ` for both sides in either order in the same clause.
   */
  readonly says: string;
  /** The place of the value among the finding's values; where two are said, the higher counts. */
  readonly rank: number;
  /**
   * What keeps it from being taken. adjacent (an immediate danger): only a denial right before it;
   * nearby: a denial within a few words before it; nothing: a wish to know something cannot be denied.
   */
  readonly deniedBy: 'nothing' | 'adjacent' | 'nearby';
  /** Too short to mean it by itself: counts only in answer to the question about this finding ("it's black"). */
  readonly onlyAsked: boolean;
}

/** A complaint of a part of the body, whatever order and words it is said in: "my calf's gone all hot", "a hot calf". */
export interface Frame {
  /** What it states; its words name the frame where a reading is explained. */
  readonly phrase: LexiconPhrase;
  /** Classes of words for the part; `none`: no part was named. */
  readonly of: readonly string[];
  /** Classes of words for what is the matter. */
  readonly is: readonly string[];
  /** One of these classes must stand near it as well; empty: nothing more is needed. */
  readonly with: readonly string[];
  /** None of these classes may stand near it. */
  readonly without: readonly string[];
}

/** What a trigger says about the words that it reaches. `nothing` keeps a shorter trigger inside it from counting. */
export type ScopeSense =
  | 'negated'
  | 'historical'
  | 'recent'
  | 'hypothetical'
  | 'other'
  | 'resolved'
  | 'dated'
  | 'doubtful'
  | 'nothing'
  | 'stop';

export interface Trigger {
  readonly says: string;
  readonly sets: ScopeSense;
  /** Which way it reaches: over what follows, over what went before, or over both. */
  readonly reach: 'forward' | 'backward' | 'both';
  /** How people talk at home, how notes are written, or either. */
  readonly register: 'spoken' | 'written' | 'any';
}

/** How people answer without naming what was asked. */
export type ReplySense =
  'yes' | 'no' | 'hedged-yes' | 'hedged-no' | 'unsure' | 'fine' | 'correction' | 'group-no' | 'filler';

export interface Measure {
  readonly finding: FindingId;
  /** Words near a number that make it this measure. */
  readonly near: readonly string[];
  /** What a unit said after the number is worth in the finding's own unit. */
  readonly units: Readonly<Record<string, number>>;
  /** The unit must be said, or the measure be asked. */
  readonly needsUnit: boolean;
}

export interface Lexicon {
  readonly format: 1;
  readonly phrases: readonly LexiconPhrase[];
  readonly frames: readonly Frame[];
  /** The classes that name parts of the body. */
  readonly parts: readonly string[];
  /** The part that a question about a finding speaks of. */
  readonly about: Readonly<Record<FindingId, string>>;
  /** Sayings that hold the words of a phrase and mean something else; what stands inside one is not taken. */
  readonly idioms: readonly string[];
  /** Groups of words that stand for one another in a phrase. */
  readonly classes: Readonly<Record<string, readonly string[]>>;
  readonly triggers: readonly Trigger[];
  /** Words that may stand between a denial and what it denies. */
  readonly joins: readonly string[];
  readonly replies: Readonly<Record<ReplySense, readonly string[]>>;
  readonly measures: readonly Measure[];
  /** Misspellings and slips of speech recognition: what was heard, and what it stands for. */
  readonly spellings: Readonly<Record<string, string>>;
  /** Ordinary words that are never taken for a slip. */
  readonly plainWords: readonly string[];
}
