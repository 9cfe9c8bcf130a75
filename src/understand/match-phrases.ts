/** Finds every place where a phrase of the lexicon stands in what was said, whole words only. */
import { foldWords, type Word } from './fold-words.ts';
import type { Span } from './denial.ts';
import type { Lexicon, LexiconPhrase } from './lexicon.ts';

export interface Hit extends Span {
  readonly phrase: LexiconPhrase;
  /** The words that were said where the phrase leaves room. */
  readonly gaps: readonly Span[];
}

/** Null stands for an idiom. */
interface Found extends Span {
  readonly phrase: LexiconPhrase | null;
  readonly gaps: readonly Span[];
}

interface Pattern {
  readonly phrase: LexiconPhrase | null;
  /** Runs of words; between two runs up to five further words may stand. */
  readonly runs: readonly (readonly string[])[];
}

const WIDEST_GAP = 5;

const prepared = new WeakMap<Lexicon, ReadonlyMap<string, readonly Pattern[]>>();

/** Hits inside a longer one that explains them are left out. */
export function matchPhrases(lexicon: Lexicon, words: readonly Word[]): readonly Hit[] {
  const patterns = patternsOf(lexicon);
  const found = words.flatMap((word, at) =>
    (patterns.get(word.text) ?? []).flatMap((pattern) => matchAt(pattern, words, at) ?? []),
  );
  return found.flatMap(({ phrase, ...span }) => {
    if (phrase === null || found.some((other) => explains(other, { phrase, ...span }))) return [];
    return [{ phrase, ...span }];
  });
}

/** The longer of two wins when it leaves no room for other words, or when both speak of the same finding. */
function explains(other: Found, hit: Found): boolean {
  const isLonger = other.end - other.start > hit.end - hit.start;
  if (!isLonger || other.start > hit.start || other.end < hit.end) return false;
  return other.gaps.length === 0 || other.phrase?.finding === hit.phrase?.finding;
}

function patternsOf(lexicon: Lexicon): ReadonlyMap<string, readonly Pattern[]> {
  const known = prepared.get(lexicon);
  if (known !== undefined) return known;
  const byFirst = new Map<string, Pattern[]>();
  const all = [
    ...lexicon.phrases.map((phrase) => ({ phrase, runs: runsOf(phrase.says) })),
    ...lexicon.idioms.map((says) => ({ phrase: null, runs: runsOf(says) })),
  ];
  for (const pattern of all) {
    const first = pattern.runs[0]?.[0];
    if (first === undefined) continue;
    const same = byFirst.get(first) ?? [];
    same.push(pattern);
    byFirst.set(first, same);
  }
  prepared.set(lexicon, byFirst);
  return byFirst;
}

function runsOf(says: string): readonly (readonly string[])[] {
  return says
    .split('...')
    .map((run) => foldWords(run).map(({ text }) => text))
    .filter((run) => run.length > 0);
}

/** The shortest way in which the pattern fits from this word on; null when it does not fit. */
function matchAt(pattern: Pattern, words: readonly Word[], start: number): Found | null {
  const gaps: Span[] = [];
  let end = start;
  for (const [at, run] of pattern.runs.entries()) {
    const from = at === 0 ? (fits(words, start, run) ? start : null) : nextFit(words, end, run);
    if (from === null) return null;
    if (from > end) gaps.push({ start: end, end: from });
    end = from + run.length;
  }
  // Words that were left room for must belong to the same thought; a phrase said in full may hold a "but".
  const isOneThought = gaps.length === 0 || words[start]?.clause === words[end - 1]?.clause;
  return isOneThought ? { phrase: pattern.phrase, start, end, gaps } : null;
}

function nextFit(words: readonly Word[], after: number, run: readonly string[]): number | null {
  for (let at = after; at <= after + WIDEST_GAP; at += 1) if (fits(words, at, run)) return at;
  return null;
}

function fits(words: readonly Word[], from: number, run: readonly string[]): boolean {
  return run.every((text, at) => words[from + at]?.text === text);
}
