/** Reads a bare answer: yes, no, unsure, how hedged, and which counts when a caller changes it within one sentence. */
import type { Word } from './fold-words.ts';
import type { Lexicon, ReplySense } from './lexicon.ts';
import { findPatterns, indexPatterns, type PatternIndex, type Span } from './patterns.ts';

export type ReplyIndex = PatternIndex<ReplySense>;

export interface Reply {
  readonly says: 'yes' | 'no' | 'unsure' | 'both' | 'nothing';
  readonly hedged: boolean;
  /** It comes after "no, wait" and replaces what was said before. */
  readonly corrected: boolean;
  /** "None of those": the whole group, and not only the last of it. */
  readonly wholeGroup: boolean;
  readonly because: readonly string[];
}

export interface Placed extends Span {
  readonly sense: ReplySense;
}

export function indexReplies({ replies, classes }: Lexicon): ReplyIndex {
  const senses: readonly ReplySense[] = [
    'yes',
    'no',
    'hedged-yes',
    'hedged-no',
    'unsure',
    'fine',
    'correction',
    'group-no',
    'filler',
  ];
  const sayings = senses.flatMap((means) => replies[means].map((says) => ({ says, means })));
  return indexPatterns(sayings, classes);
}

/** Every sense, longest first where they overlap; plain words of yes and no only at the head of a clause. */
export function placeReplies(index: ReplyIndex, words: readonly Word[]): readonly Placed[] {
  const found = findPatterns(index, words);
  const longest = found.filter(
    (one) =>
      !found.some(
        (other) =>
          other.start <= one.start && other.end >= one.end && other.end - other.start > one.end - one.start,
      ),
  );
  const placed: Placed[] = [];
  for (const { means: sense, start, end } of longest) {
    if (isPlain(sense) && !isAtHead(words, placed, start)) continue;
    if (sense === 'hedged-yes' && !isAtHead(words, placed, start, LEADS_IN)) continue;
    // "I don't" answers; "I don't want to" goes on to say something else.
    if (isPlain(sense) && PRONOUNS.has(words[start]?.text ?? '') && !isAtEnd(words, longest, end)) continue;
    placed.push({ sense, start, end });
  }
  return placed;
}

export function positionsOf(placed: readonly Placed[], sense: ReplySense): readonly number[] {
  return placed.filter((one) => one.sense === sense).map(({ start }) => start);
}

const PRONOUNS: ReadonlySet<string> = new Set(['i', 'it', 'they', 'she', 'he', 'there']);

function isAtEnd(words: readonly Word[], found: readonly Span[], end: number): boolean {
  const next = words[end];
  if (next === undefined || next.clause !== words[end - 1]?.clause) return true;
  return found.some(({ start }) => start === end);
}

function isPlain(sense: ReplySense): boolean {
  return sense === 'yes' || sense === 'no';
}

const NOTHING: ReadonlySet<string> = new Set();
/** "It is a bit", "I feel it only when I move". */
const LEADS_IN: ReadonlySet<string> = new Set(
  'i it is am are was do does did feel feels have has had get gets got there they she he just only maybe that would say id be been but and then'.split(
    ' ',
  ),
);

/** Only fillers and other answers stand before it in its clause. */
function isAtHead(
  words: readonly Word[],
  placed: readonly Placed[],
  start: number,
  also: ReadonlySet<string> = NOTHING,
): boolean {
  for (let at = start - 1; at >= 0 && words[at]?.clause === words[start]?.clause; at -= 1) {
    const isLeadIn = also.has(words[at]?.text ?? '');
    if (!isLeadIn && !placed.some((one) => one.start <= at && at < one.end)) return false;
  }
  return true;
}

export function readReply(placed: readonly Placed[], words: readonly Word[]): Reply {
  const corrected = positionsOf(placed, 'correction').at(-1) ?? -1;
  const after = placed.filter(({ start }) => start > corrected && corrected >= 0).filter(speaks);
  const counted = after.length > 0 ? after : placed.filter(speaks);
  const senses = counted.map(({ sense }) => sense);
  const because = counted.map((one) => `${one.sense}: ${textOf(words, one)}`);
  const yes = senses.includes('yes') || senses.includes('hedged-yes');
  const no = senses.some(
    (sense) => sense === 'no' || sense === 'hedged-no' || sense === 'group-no' || sense === 'fine',
  );
  const hedged = senses.some(
    (sense) => sense === 'hedged-yes' || sense === 'hedged-no' || sense === 'unsure',
  );
  const wholeGroup = senses.includes('group-no');
  const says = senses.includes('unsure')
    ? yes && !no
      ? 'yes'
      : 'unsure'
    : yes && no
      ? both(senses)
      : yes
        ? 'yes'
        : no
          ? 'no'
          : 'nothing';
  return { says, hedged, corrected: after.length > 0, wholeGroup, because };
}

/** "No, a bit" says a bit; a plain yes beside a plain no says neither. */
function both(senses: readonly ReplySense[]): 'yes' | 'both' {
  const mild = senses.includes('hedged-yes') && !senses.includes('yes');
  return mild ? 'yes' : 'both';
}

const ASKING: ReadonlySet<string> = new Set('do is am are have has does did was any'.split(' '));

/** The caller only says the question again: "do I have chest pain?". */
export function isEcho(words: readonly Word[], { says }: Reply): boolean {
  return says === 'nothing' && ASKING.has(words[0]?.text ?? '') && words.length <= 8;
}

function speaks({ sense }: Placed): boolean {
  return sense !== 'filler' && sense !== 'correction';
}

function textOf(words: readonly Word[], { start, end }: Span): string {
  return words
    .slice(start, end)
    .map(({ text }) => text)
    .join(' ');
}
