/** What a lexicon is: the phrases that callers use, each with the finding and value it states. Plain data. */
import type { FindingId, FindingValue } from '../clinical/finding.ts';

export interface LexiconPhrase {
  readonly finding: FindingId;
  readonly value: FindingValue;
  /** As people say it. ` ... ` stands for up to five further words in the same clause. */
  readonly says: string;
  /** The place of the value among the finding's values; where two are said, the higher counts. */
  readonly rank: number;
  /**
   * What keeps it from being taken. adjacent (an immediate danger): only a denial right before it;
   * nearby: a denial within a few words before it; nothing: a wish to know something cannot be denied.
   */
  readonly deniedBy: 'nothing' | 'adjacent' | 'nearby';
}

export interface Lexicon {
  readonly format: 1;
  readonly phrases: readonly LexiconPhrase[];
  /** Sayings that hold the words of a phrase and mean something else; what stands inside one is not taken. */
  readonly idioms: readonly string[];
}
