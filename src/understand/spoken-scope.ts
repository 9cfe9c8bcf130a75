/**
 * Scope in how callers talk: often without full stops, so that a denial reaches only as far as its own thought, and a
 * danger is denied only by words right before it or by a list that hangs on them.
 */
import type { Word } from './fold-words.ts';
import type { Hit } from './match-phrases.ts';
import { isOnItsSide, scopeOf, type PlacedTrigger, type Reaches, type Scope } from './scope.ts';
import type { Span } from './patterns.ts';

export interface SpokenContext {
  readonly words: readonly Word[];
  readonly hits: readonly Hit[];
  readonly placed: readonly PlacedTrigger[];
  readonly joins: ReadonlySet<string>;
  /** The caller rings for somebody else, whose health the words are about. */
  readonly isForOther: boolean;
}

/** How many words lie at most between a denial and what it denies. */
const DENIAL_REACH = 5;
/** How many words a time, a condition or another person reaches over. */
const FRAME_REACH = 14;
const RESOLVED_REACH = 7;

export function spokenScope(context: SpokenContext, hit: Hit): Scope {
  return scopeOf(context.placed, hit, reachesTo(context, hit));
}

function reachesTo(context: SpokenContext, hit: Hit): Reaches {
  return (one, span) => {
    const { sets } = one.trigger;
    const inside = one.start >= span.start && one.end <= span.end;
    if (inside) return isInGap(hit, one) && sets !== 'resolved';
    if (sets === 'negated' && one.start < span.start && beginsWithDenial(context, span)) return false;
    if (!isOnItsSide(one, span) || beginsAnew(context, one) || isSpokenFor(context, hit, one)) return false;
    const between = { start: Math.min(one.end, span.end), end: Math.max(one.start, span.start) };
    if (hasStop(context, between)) return false;
    switch (sets) {
      case 'negated':
        return one.start < span.start
          ? deniesAhead(context, hit, between)
          : deniesBehind(context, one, between);
      case 'other':
        // Somebody who speaks only of a relative is ringing for that relative.
        if (one.trigger.says.includes('@') && context.isForOther) return false;
        return isFramed(context, hit, one);
      case 'hypothetical':
      case 'historical':
      case 'recent':
      case 'doubtful':
        return isFramed(context, hit, one);
      case 'dated':
        return length(between) <= RESOLVED_REACH && isOneSentence(context, one, span);
      case 'resolved':
        return (
          length(between) <= RESOLVED_REACH &&
          isOneSentence(context, one, span) &&
          speaksOn(context, hit, one)
        );
      case 'nothing':
      case 'stop':
        return false;
    }
  };
}

const SUBJECTS: ReadonlySet<string> = new Set('i my it she he they we there her his the'.split(' '));

/** "No, bit by bit" and "no my sight is fine": the "no" answers something else. */
function beginsAnew({ words }: SpokenContext, { trigger, start, end }: PlacedTrigger): boolean {
  if (trigger.sets !== 'negated' || trigger.reach !== 'forward') return false;
  const [word, next] = [words[start], words[end]];
  if (word?.text !== 'no' || next === undefined || end !== start + 1) return false;
  return next.clause !== word.clause || SUBJECTS.has(next.text);
}

/** "Does not go away with blinking" is a phrase of its own: its "not" denies nothing beyond it. */
function isSpokenFor({ hits }: SpokenContext, hit: Hit, one: PlacedTrigger): boolean {
  if (one.trigger.sets !== 'negated') return false;
  return hits.some(
    (other) =>
      other.phrase.value !== null &&
      other.phrase.denied !== 'yes' &&
      other.phrase.finding !== hit.phrase.finding &&
      other.start <= one.start &&
      other.end >= one.end &&
      !isInGap(other, one),
  );
}

/** "No fever, no discharge": the second has a denial of its own. */
function beginsWithDenial({ placed }: SpokenContext, span: Span): boolean {
  return placed.some(({ trigger, start }) => trigger.sets === 'negated' && start === span.start);
}

function isInGap(hit: Hit, one: Span): boolean {
  return hit.gaps.some(({ start, end }) => one.start >= start && one.end <= end);
}

function length({ start, end }: Span): number {
  return end - start;
}

function hasStop({ placed }: SpokenContext, { start, end }: Span): boolean {
  return placed.some(({ trigger, start: at }) => trigger.sets === 'stop' && at >= start && at < end);
}

function isOneSentence({ words }: SpokenContext, one: Span, other: Span): boolean {
  return words[one.start]?.sentence === words[other.start]?.sentence;
}

/** A time, a condition or another person reaches over its sentence; over what reassures only within its clause. */
function isFramed({ words }: SpokenContext, hit: Hit, one: Span): boolean {
  const between = one.start >= hit.end ? one.start - hit.end : hit.start - one.end;
  const isCalm = hit.phrase.value === 'no' && hit.phrase.denied !== 'no';
  const at = [words[one.start], words[hit.start]];
  if (isCalm && at[0]?.clause !== at[1]?.clause) return false;
  return between <= FRAME_REACH && at[0]?.sentence === at[1]?.sentence;
}

const SPEAKS_ON: ReadonlySet<string> = new Set(
  'it that they this he she i all them those these but and its then'.split(' '),
);

/** "Chest pain, but it's gone": what is over is the same thing; of "no blood, nose has stopped" it is the nose. */
function speaksOn({ words }: SpokenContext, hit: Hit, one: Span): boolean {
  if (words[one.start]?.clause === words[hit.end - 1]?.clause || one.start < hit.start) return true;
  let head = one.start;
  while (head > 0 && words[head - 1]?.clause === words[one.start]?.clause) head -= 1;
  return head === one.start || SPEAKS_ON.has(words[head]?.text ?? '');
}

/** Ahead: within a few words in the same clause, or only joining words and other things of a list between. */
function deniesAhead(context: SpokenContext, hit: Hit, between: Span): boolean {
  const isOneClause = context.words[between.start - 1]?.clause === context.words[between.end]?.clause;
  // "No bleeding, drinking plenty": what reassures by itself is no further item of a list of what is not there.
  const isCalm = hit.phrase.denied === 'yes' || hit.phrase.rank < 0;
  if (isCalm && !isOneClause) return false;
  if (isListed(context, between)) return true;
  if (hit.phrase.deniedBy === 'adjacent') return false;
  const { words } = context;
  // "It doesn't clear and a pain has come": what follows "and" is another thought.
  for (let at = between.start; at < between.end; at += 1) if (words[at]?.text === 'and') return false;
  return length(between) <= DENIAL_REACH && words[between.start - 1]?.clause === words[between.end]?.clause;
}

/** "Redness, no.": nothing more may follow in that clause, or the denial is of what follows. */
function deniesBehind(context: SpokenContext, one: Span, between: Span): boolean {
  const { words } = context;
  if (words[one.end] !== undefined && words[one.end]?.clause === words[one.start]?.clause) return false;
  return length(between) <= 3 && isListed(context, between);
}

/** "No pain, it's the wound that weeps": a clause with a subject of its own is no further item of a list. */
function hasNewSubject({ words }: SpokenContext, { start, end }: Span): boolean {
  for (let at = Math.max(1, start); at <= end; at += 1) {
    const isHead = words[at]?.clause !== words[at - 1]?.clause;
    if (isHead && OPENS.has(words[at]?.text ?? '')) return true;
  }
  return false;
}

const OPENS: ReadonlySet<string> = new Set(
  'it i she he they there we that this the my me her his'.split(' '),
);

function isListed(context: SpokenContext, { start, end }: Span): boolean {
  const { words, hits, joins } = context;
  if (words[start - 1]?.sentence !== words[end]?.sentence || hasNewSubject(context, { start, end }))
    return false;
  for (let at = start; at < end; at += 1) {
    if (joins.has(words[at]?.text ?? '')) continue;
    if (!hits.some((hit) => hit.start <= at && at < hit.end)) return false;
  }
  return true;
}
