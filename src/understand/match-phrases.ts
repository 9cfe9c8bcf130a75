/** Finds every place where a phrase of the lexicon stands in what was said, whole words only. */
import type { FindingId } from '../clinical/finding.ts';
import { thinWords, widened } from './thin-words.ts';
import { matchFrames, type AskedPart, type FrameIndex } from './frames.ts';
import type { Word } from './fold-words.ts';
import type { Lexicon, LexiconPhrase } from './lexicon.ts';
import { findPatterns, indexPatterns, type Match, type PatternIndex, type Span } from './patterns.ts';

export interface Hit extends Span {
  readonly phrase: LexiconPhrase;
  /** The words that were said where the phrase leaves room. */
  readonly gaps: readonly Span[];
  /** The words that carry the meaning, without what they are only said of. */
  readonly core: Span;
}

/** Null stands for an idiom. */
export type PhraseIndex = PatternIndex<LexiconPhrase | null>;

export function indexPhrases({ phrases, idioms, classes }: Lexicon): PhraseIndex {
  return indexPatterns<LexiconPhrase | null>(
    [
      ...phrases.map((phrase) => ({ says: phrase.says, means: phrase })),
      ...idioms.map((says) => ({ says, means: null })),
    ],
    classes,
  );
}

/** What was asked, and the part of the body it speaks of. */
export interface Asked {
  readonly part: AskedPart;
  readonly findings: readonly FindingId[];
}

export interface Matching {
  readonly phrases: PhraseIndex;
  readonly frames: FrameIndex;
}

/** Hits inside a longer one that explains them are left out. */
export function matchPhrases(index: Matching, words: readonly Word[], asked: Asked): readonly Hit[] {
  const full = matchAll(index, words, asked);
  const isNew = (one: Found): boolean => !full.some((other) => isSame(one, other));
  const all = [...full, ...matchThin(index, words, asked).filter(isNew)];
  const found = all.filter(
    ({ means }) => means?.onlyAsked !== true || asked.findings.includes(means.finding),
  );
  return found.flatMap((hit) => {
    const { means, start, end, gaps, core } = hit;
    if (means === null || found.some((other) => explains(other, hit))) return [];
    return [{ phrase: means, start, end, gaps, core }];
  });
}

function matchAll(index: Matching, words: readonly Word[], asked: Asked): readonly Found[] {
  return [...findPatterns(index.phrases, words), ...matchFrames(index.frames, words, asked.part)];
}

/** The same once more without words that only add weight. */
function matchThin(index: Matching, words: readonly Word[], asked: Asked): readonly Found[] {
  const thin = thinWords(words);
  if (thin === null) return [];
  const places = new Map(words.map((word, at) => [word, at]));
  return matchAll(index, thin, asked).map((match) => widened(match, thin, places));
}

function isSame(one: Found, other: Found): boolean {
  return one.means === other.means && one.start === other.start && one.end === other.end;
}

type Found = Match<LexiconPhrase | null>;

/** An idiom takes away whatever shorter hit shares a word with it. */
function isIdiomOver(other: Found, hit: Found): boolean {
  return (
    other.means === null &&
    hit.means?.deniedBy !== 'nothing' &&
    other.start < hit.end &&
    hit.start < other.end &&
    size(other) >= size(hit) - size(hit.gaps[0])
  );
}

function size(span: Span | undefined): number {
  return span === undefined ? 0 : span.end - span.start;
}

/** The longer of two wins when it leaves no room for other words, or when both speak of the same finding. */
function explains(other: Found, hit: Found): boolean {
  if (isIdiomOver(other, hit)) return true;
  if (other.start > hit.start || other.end < hit.end) return false;
  if (other.end - other.start <= hit.end - hit.start) return false;
  // A longer phrase that only a denial makes count says no more than the shorter one that states something.
  if (other.means !== null && other.means.value === null && hit.means?.value !== null) return false;
  return other.gaps.length === 0 || other.means?.finding === hit.means?.finding;
}
