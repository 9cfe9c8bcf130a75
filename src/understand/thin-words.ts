/** Words without those that only add weight or fill a pause, so that "gone really quite dark" is also read as "gone dark". */
import type { Word } from './fold-words.ts';
import type { Match, Span } from './patterns.ts';

const WEIGHT: ReadonlySet<string> = new Set(
  `absolutely actually awfully basically completely er erm extremely fairly feckin fecking frigging fucking
  honestly incredibly just kinda literally massively obviously ofc perfectly pretty probably proper properly pure quare quite
  rather really seriously somewhat sorta super terribly thoroughly totally truly uh uhm um utterly very wild wile`.split(
    /\s+/,
  ),
);
const KIND: ReadonlySet<string> = new Set(['kind', 'sort', 'type']);

/** Null where nothing can be left out. */
export function thinWords(words: readonly Word[]): readonly Word[] | null {
  const kept = words.filter(({ text }, at) => {
    if (WEIGHT.has(text)) return false;
    const isOf = text === 'of' && KIND.has(words[at - 1]?.text ?? '');
    const isKind = KIND.has(text) && words[at + 1]?.text === 'of';
    return !isOf && !isKind;
  });
  return kept.length === words.length ? null : kept;
}

/** A match among fewer words, placed among all of them. */
export function widened<TMeans>(
  match: Match<TMeans>,
  thin: readonly Word[],
  places: ReadonlyMap<Word, number>,
): Match<TMeans> {
  const at = (word: Word | undefined): number => (word === undefined ? 0 : (places.get(word) ?? 0));
  const wide = ({ start, end }: Span): Span => ({ start: at(thin[start]), end: at(thin[end - 1]) + 1 });
  return { ...match, ...wide(match), gaps: match.gaps.map(wide), core: wide(match.core) };
}
