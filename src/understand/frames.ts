/**
 * Ties each complaint in the words to the part of the body it is said of, and reads the pair: "my calf's gone hot", "hot
 * calf", "it's my calf. It's hot". A complaint without a part belongs to what was last spoken of, else to what was asked.
 */
import type { Word } from './fold-words.ts';
import type { Frame, Lexicon, LexiconPhrase } from './lexicon.ts';
import { findPatterns, indexPatterns, type Match, type PatternIndex, type Span } from './patterns.ts';

export interface FrameIndex {
  readonly parts: PatternIndex<string>;
  readonly complaints: PatternIndex<string>;
  readonly byComplaint: ReadonlyMap<string, readonly Frame[]>;
}

/** The part to which a complaint belongs when the words name none; null: none. */
export type AskedPart = string | null;

const NONE = 'none';
/** "The left one" says which, and only where nothing else does, what. */
const SIDE = 'side';
/** "I can get my finger in" names no part that anything is the matter with. */
const NO_PART = 'notpart';
/** How far before a complaint its part may have been named. */
const CARRIES = 14;
/** How near what a frame also needs must stand, and what it must not have. */
const NEAR = 14;
const BESIDE = 7;
/** Words that may stand between a quality and the part it goes before: "swollen left leg", "pain in my calf". */
const LEADS_TO: ReadonlySet<string> = new Set(
  'a an and any all around round about at behind below beneath beyond down from in inside into just left lower my her his me mam mum of off on one or other our out over past right side that the their this through to under underneath up upper whole with your both two top bottom near along across back coming'.split(
    ' ',
  ),
);

export function indexFrames({ frames, parts, classes }: Lexicon): FrameIndex {
  const named = (names: readonly string[]): PatternIndex<string> =>
    indexPatterns(
      names.map((name) => ({ says: `@${name}`, means: name })),
      classes,
    );
  const complaints = new Set(frames.flatMap((frame) => [...frame.is, ...frame.with, ...frame.without]));
  const byComplaint = new Map<string, Frame[]>();
  for (const frame of frames) {
    for (const name of frame.is) byComplaint.set(name, [...(byComplaint.get(name) ?? []), frame]);
  }
  return { parts: named(parts), complaints: named([...complaints]), byComplaint };
}

/** Every frame that the words fill; a complaint fills the frames of one part only. */
export function matchFrames(
  index: FrameIndex,
  words: readonly Word[],
  asked: AskedPart,
): readonly Match<LexiconPhrase | null>[] {
  const named = longestPart(findPatterns(index.parts, words)).filter(({ means }) => means !== NO_PART);
  const parts = headsOf(named, words);
  const complaints = longestOf(findPatterns(index.complaints, words));
  const said = { complaints, words };
  return complaints.flatMap((complaint) => {
    const frames = index.byComplaint.get(complaint.means) ?? [];
    if (frames.length === 0) return [];
    const fitting = (name: string): readonly Frame[] =>
      frames.filter((frame) => frame.of.includes(name) && holds(frame, complaint, said));
    const part = partOf(complaint, parts, words);
    const isHere = part !== null && words[part.start]?.clause === words[complaint.start]?.clause;
    // What was spoken of before may be carried on with; a part named beside the complaint is the one that is meant.
    const names = isHere
      ? [part.means]
      : [speaksOn(words, complaint) ? part?.means : null, asked, NONE].filter(
          (name) => typeof name === 'string',
        );
    const filled = names.map(fitting).find((some) => some.length > 0) ?? [];
    const span = spanOf(complaint, part, words);
    return filled.map(({ phrase }) => ({ means: phrase, ...span, core: complaint.core }));
  });
}

const CALM: ReadonlySet<string> = new Set(['fine', 'normalcolour', 'evenly']);
const SPEAKS_ON: ReadonlySet<string> = new Set(
  'it they that its those these both all colour still looks'.split(' '),
);

/** "My leg hurts. I'm fine": what is fine is no leg. Anything worse is carried on in every case. */
function speaksOn(words: readonly Word[], { means, start }: Match<string>): boolean {
  if (!CALM.has(means)) return true;
  let head = start;
  while (head > 0 && words[head - 1]?.clause === words[start]?.clause) head -= 1;
  return head === start || SPEAKS_ON.has(words[head]?.text ?? '');
}

interface Said {
  readonly complaints: readonly Match<string>[];
  readonly words: readonly Word[];
}

function holds(frame: Frame, at: Span, { complaints, words }: Said): boolean {
  const has = (name: string, isThere: (one: Span) => boolean): boolean =>
    complaints.some(({ means, ...one }) => means === name && isThere(one));
  const isNear = (one: Span): boolean => between(one, at) <= NEAR;
  const isBeside = (one: Span): boolean =>
    between(one, at) <= BESIDE && words[one.start]?.sentence === words[at.start]?.sentence;
  const hasAll = frame.with.length === 0 || frame.with.some((name) => has(name, isNear));
  return hasAll && !frame.without.some((name) => has(name, isBeside));
}

function between(one: Span, other: Span): number {
  return one.start >= other.end ? one.start - other.end : other.start - one.end;
}

/** Of parts that overlap the longest way counts: "the skin above the scar" is no scar. */
function longestPart(found: readonly Match<string>[]): readonly Match<string>[] {
  const size = ({ start, end }: Span): number => end - start;
  return found.filter(
    (one) =>
      !found.some((other) => other.start < one.end && one.start < other.end && size(other) > size(one)),
  );
}

/** Classes that say the opposite of words inside their own: "hasn't spread", "not hard", "half a centimetre". */
const OPPOSITES: ReadonlySet<string> = new Set(
  'along closed decoy dry evenly fine nosmell notpart normalcolour slowly soft tiny'.split(' '),
);

/** Of a class the longest way counts; a shorter way of another is left out inside its opposite. */
function longestOf(found: readonly Match<string>[]): readonly Match<string>[] {
  return found.filter(
    (one) =>
      !found.some(
        (other) =>
          other.start <= one.start &&
          other.end >= one.end &&
          other.end - other.start > one.end - one.start &&
          (other.means === one.means || OPPOSITES.has(other.means)),
      ),
  );
}

const PLACES: ReadonlySet<string> = new Set(
  'on of in at behind under underneath near beside above below round around across from by inside past beyond beneath along down up over'.split(
    ' ',
  ),
);

/** Of "the wound on my thigh" the wound, of "the left side of my face" the face. */
function headsOf(parts: readonly Match<string>[], words: readonly Word[]): readonly Match<string>[] {
  const isPlaced = (one: Span, next: Span): boolean =>
    next.start > one.end && PLACES.has(words[one.end]?.text ?? '') && leadsTo(words, one.end, next.start);
  return parts.filter((part, at) => {
    const [before, after] = [parts[at - 1], parts[at + 1]];
    if (part.means === SIDE) return after === undefined || !isPlaced(part, after);
    return before === undefined || before.means === SIDE || !isPlaced(before, part);
  });
}

/** Something that is no part of the body carries nothing further than the words beside it. */
function carries({ means }: Match<string>): number {
  return means === 'decoy' ? 3 : CARRIES;
}

/** The part right after it, else the nearest before it in its clause, else one after it, else what was last spoken of. */
function partOf(
  complaint: Span,
  parts: readonly Match<string>[],
  words: readonly Word[],
): Match<string> | null {
  const clause = words[complaint.start]?.clause;
  const isHere = ({ start }: Span): boolean => words[start]?.clause === clause;
  const within = parts.find((part) => part.start < complaint.end && part.end > complaint.start);
  if (within !== undefined) return within;
  const after = parts.filter((part) => part.start >= complaint.end && isHere(part));
  const led = after.find((part) => leadsTo(words, complaint.end, part.start));
  const before = parts.filter(
    (part) => part.end <= complaint.start && complaint.start - part.end <= carries(part),
  );
  const last = before.findLast(({ means }) => means !== SIDE) ?? before.at(-1);
  const isClose = last !== undefined && isHere(last) && complaint.start - last.end <= 2;
  if (led !== undefined && !isClose) return led;
  if (last !== undefined && isHere(last)) return last;
  const next = after[0];
  if (next !== undefined && next.start - complaint.end <= 4) return next;
  return last ?? null;
}

function leadsTo(words: readonly Word[], from: number, to: number): boolean {
  if (to - from > 5) return false;
  return words.slice(from, to).every(({ text }) => LEADS_TO.has(text));
}

/** Both and what stands between them where they are of one clause; else the complaint alone. */
function spanOf(
  complaint: Span,
  part: Span | null,
  words: readonly Word[],
): Span & { readonly gaps: readonly Span[] } {
  const { start, end } = complaint;
  if (part === null || words[part.start]?.clause !== words[start]?.clause) return { start, end, gaps: [] };
  const whole = { start: Math.min(start, part.start), end: Math.max(end, part.end) };
  const gap = { start: Math.min(end, part.end), end: Math.max(start, part.start) };
  return { ...whole, gaps: gap.end > gap.start ? [gap] : [] };
}
