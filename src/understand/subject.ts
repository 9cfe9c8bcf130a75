/** Whom the words are about: the caller, or a relative or friend for whom the caller rings. */
import type { Word } from './fold-words.ts';
import { findPatterns, indexPatterns, type Classes, type PatternIndex, type Span } from './patterns.ts';

export type RelativeIndex = PatternIndex<'relative'>;

const RELATIVE = 'relative';
const OWNED: ReadonlySet<string> = new Set(['my', 'me', 'our', 'the', 'her', 'his', 'a', 'own', 'mi']);
/** "Mum's had a fall": called by name, and nobody's. */
const NAMES: ReadonlySet<string> = new Set(
  'mum mam mom mammy mummy ma dad daddy da nan nana gran granny grandma grandad hubby wife husband daughter'.split(
    ' ',
  ),
);
const FIRST: ReadonlySet<string> = new Set(['i', 'my', 'me', 'mine', 'myself', 'am', 'ah']);
const THIRD: ReadonlySet<string> = new Set(['he', 'she', 'his', 'her', 'him', 'hers', 'himself', 'herself']);
/** After "can I" and the like stands what the caller wants for themselves. */
const ASKS: ReadonlySet<string> = new Set([
  'can',
  'do',
  'could',
  'should',
  'may',
  'when',
  'am',
  'shall',
  'would',
  'must',
]);
/** "I've none", "I don't": the caller answers for themselves. */
const OF_ME: ReadonlySet<string> = new Set([
  'none',
  'no',
  'dont',
  'havent',
  'didnt',
  'fine',
  'grand',
  'ok',
  'okay',
]);
/** "I've been fine". */
const STATE: ReadonlySet<string> = new Set(['been', 'am', 'feel', 'feeling', 'felt']);
/** "I can't wake her", "I'm with him": the caller is beside somebody else. */
const WITH: ReadonlySet<string> = new Set(['her', 'him', 'she', 'he', 'them']);
const REACH = 8;

export function indexRelatives(classes: Classes): RelativeIndex {
  return indexPatterns([{ says: `@${RELATIVE}`, means: RELATIVE } as const], classes);
}

interface Spoken {
  readonly words: readonly Word[];
  /** What was said of somebody's health. */
  readonly hits: readonly Span[];
  /** What somebody only wants to know. */
  readonly wishes: readonly Span[];
}

/** Where a relative or friend is spoken of, as somebody's own: "my wife", "the wife". */
export function placeRelatives(index: RelativeIndex, words: readonly Word[]): readonly Span[] {
  return findPatterns(index, words).filter(
    ({ start }) => OWNED.has(words[start - 1]?.text ?? '') || isCalledByName(words, start),
  );
}

/** At the head of a clause: "well, mum's had a fall". */
function isCalledByName(words: readonly Word[], at: number): boolean {
  return NAMES.has(words[at]?.text ?? '') && words[at - 1]?.clause !== words[at]?.clause;
}

/** True when a relative was named, everything said of health is said of a third person, and nothing of the caller. */
export function isForRelative(relatives: readonly Span[], { words, hits, wishes }: Spoken): boolean {
  if (relatives.length === 0 || hits.length === 0 || asksForMe(words)) return false;
  if (wishes.some((wish) => !isOfThird(words, wish))) return false;
  const isRelative = (at: number): boolean => relatives.some(({ start, end }) => at >= start && at < end);
  const persons = hits.map((hit) => personOf(words, hit, isRelative));
  if (persons.includes('first')) return false;
  return persons.includes('third') || words.some(({ text }) => THIRD.has(text));
}

/** "When can she drive" is asked for somebody else. */
function isOfThird(words: readonly Word[], { start, end }: Span): boolean {
  return words.slice(Math.max(0, start - 2), end + 2).some(({ text }) => THIRD.has(text));
}

function asksForMe(words: readonly Word[]): boolean {
  return words.some(({ text }, at) => {
    const next = words[at + 1]?.text ?? '';
    const isAsked = ASKS.has(text) && next === 'i' && !WITH.has(words[at + 3]?.text ?? '');
    const isWell = text === 'i' && STATE.has(next) && OF_ME.has(words[at + 2]?.text ?? '');
    const isAnswered = text === 'i' && OF_ME.has(next) && !WITH.has(words[at + 3]?.text ?? '');
    return (
      isAsked ||
      isAnswered ||
      isWell ||
      text === 'mine' ||
      text === 'myself' ||
      (text === 'not' && next === 'me')
    );
  });
}

/** The nearest person spoken of at or before it: the caller, somebody else, or nobody. */
function personOf(
  words: readonly Word[],
  { start, end }: Span,
  isRelative: (at: number) => boolean,
): 'first' | 'third' | 'none' {
  for (let at = end - 1; at >= Math.max(0, start - REACH); at -= 1) {
    const text = words[at]?.text ?? '';
    if (isRelative(at) || THIRD.has(text)) return 'third';
    if (!FIRST.has(text)) continue;
    if (isRelative(at + 1) || text === 'am') continue;
    // "I can hardly rouse him": the caller does it, somebody else has it.
    if (text === 'i' && words.slice(at, end + 3).some((word) => WITH.has(word.text))) continue;
    return 'first';
  }
  return 'none';
}
