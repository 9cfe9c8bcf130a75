/** A lexicon made ready for reading, once: its patterns, triggers, replies and spellings by first word and by sound. */
import { foldWords } from './fold-words.ts';
import { indexFrames, type FrameIndex } from './frames.ts';
import type { Lexicon } from './lexicon.ts';
import { indexPhrases, type PhraseIndex } from './match-phrases.ts';
import { indexReplies, type ReplyIndex } from './reply.ts';
import { indexTriggers, type TriggerIndex } from './scope.ts';
import { indexRelatives, type RelativeIndex } from './subject.ts';
import { makeSpelling, type Spelling } from './spelling.ts';

export interface Prepared {
  readonly lexicon: Lexicon;
  readonly phrases: PhraseIndex;
  readonly frames: FrameIndex;
  readonly triggers: TriggerIndex;
  readonly replies: ReplyIndex;
  readonly relatives: RelativeIndex;
  readonly joins: ReadonlySet<string>;
  readonly spelling: Spelling;
}

const known = new WeakMap<Lexicon, Prepared>();

export function prepare(lexicon: Lexicon): Prepared {
  const before = known.get(lexicon);
  if (before !== undefined) return before;
  const prepared: Prepared = {
    lexicon,
    phrases: indexPhrases(lexicon),
    frames: indexFrames(lexicon),
    triggers: indexTriggers(lexicon, 'spoken'),
    replies: indexReplies(lexicon),
    relatives: indexRelatives(lexicon.classes),
    joins: new Set(lexicon.joins),
    spelling: makeSpelling(lexicon.spellings, wordsOf(lexicon), lexicon.plainWords),
  };
  known.set(lexicon, prepared);
  return prepared;
}

/** Every word that the lexicon knows. */
function wordsOf({ phrases, idioms, classes, triggers, replies, measures }: Lexicon): ReadonlySet<string> {
  const sayings = [
    ...phrases.map(({ says }) => says),
    ...idioms,
    ...Object.values(classes).flat(),
    ...triggers.filter(({ register }) => register !== 'written').map(({ says }) => says),
    ...Object.values(replies).flat(),
    ...measures.flatMap(({ near }) => near),
  ];
  return new Set(sayings.flatMap((says) => foldWords(says).map(({ text }) => text)));
}
