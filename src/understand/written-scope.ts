/** Scope in written clinical notes: a trigger reaches to the end of the sentence or to the next stop. */
import { foldWords, type Word } from './fold-words.ts';
import type { Lexicon } from './lexicon.ts';
import {
  indexTriggers,
  isOnItsSide,
  placeTriggers,
  scopeOf,
  type PlacedTrigger,
  type TriggerIndex,
} from './scope.ts';
import type { Span } from './patterns.ts';

export interface WrittenScope {
  readonly negated: boolean;
  readonly time: 'recent' | 'historical' | 'hypothetical';
  readonly who: 'patient' | 'other';
  readonly because: readonly string[];
}

const indexes = new WeakMap<Lexicon, TriggerIndex>();

/** A phrase that does not stand in the text is read as if it stood nowhere: nothing reaches it. */
export function writtenScope(lexicon: Lexicon, text: string, phrase: string): WrittenScope {
  const words = foldWords(text);
  const span = find(words, foldWords(phrase));
  if (span === null) return { negated: false, time: 'recent', who: 'patient', because: [] };
  const placed = placeTriggers(indexOf(lexicon), words);
  const stops = placed.filter(({ trigger }) => trigger.sets === 'stop');
  const scope = scopeOf(placed, span, (one, to) => {
    // What stands inside the concept belongs to it and decides nothing about it.
    if (one.start < to.end && one.end > to.start) return false;
    return isOnItsSide(one, to) && isOpen({ words, stops }, one, to);
  });
  const time = scope.hypothetical ? 'hypothetical' : scope.historical ? 'historical' : 'recent';
  return {
    negated: scope.negated || scope.resolved,
    time,
    who: scope.other ? 'other' : 'patient',
    because: scope.because,
  };
}

function indexOf(lexicon: Lexicon): TriggerIndex {
  const known = indexes.get(lexicon);
  if (known !== undefined) return known;
  const index = indexTriggers(lexicon, 'written');
  indexes.set(lexicon, index);
  return index;
}

interface Between {
  readonly words: readonly Word[];
  readonly stops: readonly Span[];
}

/** No stop and no full stop between a trigger and the words. */
function isOpen({ words, stops }: Between, trigger: PlacedTrigger, span: Span): boolean {
  const from = Math.min(trigger.end, span.end);
  const to = Math.max(trigger.start, span.start);
  const sentences = new Set([words[trigger.start]?.sentence, words[span.start]?.sentence]);
  return sentences.size === 1 && !stops.some(({ start }) => start >= from && start < to);
}

function find(words: readonly Word[], phrase: readonly Word[]): Span | null {
  if (phrase.length === 0) return null;
  for (let at = 0; at + phrase.length <= words.length; at += 1) {
    if (phrase.every(({ text }, offset) => words[at + offset]?.text === text)) {
      return { start: at, end: at + phrase.length };
    }
  }
  return null;
}
