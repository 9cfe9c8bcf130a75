/** Whether what was said just before a phrase denies it. A denied phrase is left unknown; it never settles a "no". */
import type { Word } from './fold-words.ts';

const DENIES: ReadonlySet<string> = new Set([
  'no',
  'not',
  'nor',
  'none',
  'never',
  'without',
  'aint',
  'arent',
  'didnt',
  'doesnt',
  'dont',
  'hadnt',
  'hasnt',
  'havent',
  'isnt',
  'wasnt',
  'werent',
]);
/** "Not only", "not sure", "don't know": nothing is denied by these. */
const UNDOES: ReadonlySet<string> = new Set([
  'just',
  'know',
  'like',
  'merely',
  'only',
  'simply',
  'sure',
  'understand',
]);
/** "No, I can't breathe": the "no" answers something else. */
const BEGINS_ANEW: ReadonlySet<string> = new Set([
  'i',
  'he',
  'she',
  'it',
  'they',
  'we',
  'my',
  'her',
  'his',
  'there',
]);
/** "Can't see any redness" denies; "can't stop shaking" does not. */
const CANNOT: ReadonlySet<string> = new Set(['cant', 'couldnt']);
const SENSES: ReadonlySet<string> = new Set(['see', 'feel', 'find', 'notice', 'spot']);
/** What may stand between a denial and the danger that it denies. */
const JOINS: ReadonlySet<string> = new Set([
  'a',
  'actual',
  'actually',
  'all',
  'an',
  'and',
  'any',
  'at',
  'been',
  'being',
  'especially',
  'feel',
  'feeling',
  'felt',
  'find',
  'got',
  'had',
  'have',
  'having',
  'kind',
  'longer',
  'more',
  'much',
  'nor',
  'notice',
  'of',
  'or',
  'particularly',
  'real',
  'really',
  'see',
  'sign',
  'signs',
  'sort',
  'spot',
  'that',
  'the',
  'think',
  'very',
]);

/** How many words before an ordinary phrase a denial still reaches. */
const REACH = 4;

/** A place in what was said: from the first word to the word after the last. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

/** For an ordinary phrase: a denial within four words before it in the same clause. */
export function isDenied(words: readonly Word[], span: Span, spans: readonly Span[]): boolean {
  const clause = words[span.start]?.clause;
  for (let at = span.start - 1; at >= Math.max(0, span.start - REACH); at -= 1) {
    if (words[at]?.clause !== clause) break;
    if (deniesAt(words, at)) return true;
  }
  return isPlainlyDenied(words, span, spans);
}

/**
 * For a danger: a denial right before it, or with only joining words or other phrases of a list between
 * ("no chest pain or shortness of breath").
 */
export function isPlainlyDenied(words: readonly Word[], span: Span, spans: readonly Span[]): boolean {
  const clause = words[span.start]?.clause;
  for (let at = span.start - 1; at >= 0; at -= 1) {
    const word = words[at];
    if (word === undefined || word.clause !== clause) return false;
    if (deniesAt(words, at)) return true;
    const isListed = spans.some(({ start, end }) => start <= at && at < end && end <= span.start);
    if (!isListed && !JOINS.has(word.text)) return false;
  }
  return false;
}

/** A denial inside the gap of a phrase: "one breast isn't bigger". */
export function hasDenial(words: readonly Word[], span: Span): boolean {
  for (let at = span.start; at < span.end; at += 1) if (deniesAt(words, at)) return true;
  return false;
}

function deniesAt(words: readonly Word[], at: number): boolean {
  const word = words[at]?.text ?? '';
  const next = words[at + 1];
  const follows = next !== undefined && next.clause === words[at]?.clause ? next.text : '';
  if (CANNOT.has(word)) return SENSES.has(follows);
  if (!DENIES.has(word) || UNDOES.has(follows)) return false;
  return word !== 'no' || !BEGINS_ANEW.has(follows);
}
