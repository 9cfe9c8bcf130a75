/** Puts right what is misspelt or misheard: listed slips first, then one word of the lexicon that sounds the same. */
import { doubleMetaphone } from 'double-metaphone';
import { foldWords, type Word } from './fold-words.ts';
import { NUMBER_WORDS } from './numbers.ts';

export interface Spelling {
  readonly listed: ReadonlyMap<string, string>;
  readonly known: ReadonlySet<string>;
  /** Words of the lexicon by their phonetic key. */
  readonly bySound: ReadonlyMap<string, readonly string[]>;
  /** What words heard before were taken for. */
  readonly before: Map<string, string>;
}

/** Shorter words sound like too many others. */
const SHORTEST = 5;
const LONGEST = 20;
/** More different words than these are not remembered. */
const REMEMBERED = 5000;

export function makeSpelling(
  listed: Readonly<Record<string, string>>,
  words: ReadonlySet<string>,
  plain: readonly string[],
): Spelling {
  const bySound = new Map<string, string[]>();
  for (const word of words) {
    if (word.length < SHORTEST) continue;
    const [key] = doubleMetaphone(word);
    bySound.set(key, [...(bySound.get(key) ?? []), word]);
  }
  return {
    listed: new Map(Object.entries(listed).map(([slip, meant]) => [slip, foldWords(meant)[0]?.text ?? slip])),
    known: new Set([...words, ...plain, ...NUMBER_WORDS]),
    bySound,
    before: new Map(),
  };
}

export function respell(spelling: Spelling, words: readonly Word[]): readonly Word[] {
  return words.map((word) => {
    const text = spelling.before.get(word.text) ?? remember(spelling, word.text);
    return text === word.text ? word : { ...word, text };
  });
}

function remember(spelling: Spelling, word: string): string {
  const text = respelt(spelling, word);
  if (spelling.before.size < REMEMBERED) spelling.before.set(word, text);
  return text;
}

function respelt({ listed, known, bySound }: Spelling, word: string): string {
  const meant = listed.get(word);
  if (meant !== undefined) return meant;
  if (known.has(word) || word.length < SHORTEST - 1 || word.length > LONGEST) return word;
  const [key] = doubleMetaphone(word);
  const near = (bySound.get(key) ?? []).filter((candidate) => isNear(word, candidate));
  return near.length === 1 ? (near[0] ?? word) : word;
}

/** At most two letters differ, one in words of fewer than six, and the first letter is the same. */
function isNear(said: string, meant: string): boolean {
  if (said[0] !== meant[0]) return false;
  const most = meant.length < 6 ? 1 : 2;
  return Math.abs(said.length - meant.length) <= most && distance(said, meant) <= most;
}

/** Letters to add, drop or change (Levenshtein 1966). */
function distance(one: string, other: string): number {
  let row = Array.from({ length: other.length + 1 }, (_, at) => at);
  for (const [at, letter] of [...one].entries()) {
    const next = [at + 1];
    for (const [to, against] of [...other].entries()) {
      const change = (row[to] ?? 0) + (letter === against ? 0 : 1);
      next.push(Math.min(change, (row[to + 1] ?? 0) + 1, (next[to] ?? 0) + 1));
    }
    row = next;
  }
  return row[other.length] ?? 0;
}
