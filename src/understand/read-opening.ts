/** Reads a caller's first words into findings. It only ever adds what was said; it never settles a "no". */
import type { FindingId, FindingValue } from '../clinical/finding.ts';
import { hasDenial, isDenied, isPlainlyDenied } from './denial.ts';
import { foldWords, type Word } from './fold-words.ts';
import type { Lexicon, LexiconPhrase } from './lexicon.ts';
import { matchPhrases, type Hit } from './match-phrases.ts';

export interface Heard {
  readonly finding: FindingId;
  readonly value: FindingValue;
  /** The caller's own words. */
  readonly words: string;
}

export interface OpeningRead {
  /** What was stated; where two values of one finding were said, the worse. */
  readonly findings: Readonly<Record<FindingId, FindingValue>>;
  /** The words behind each of them, in the order in which they were said. */
  readonly because: readonly Heard[];
  /** Findings that were only denied. They stay unknown and are asked like any other. */
  readonly denied: readonly Heard[];
}

/** Text that holds no known phrase gives nothing: everything stays unknown. */
export function readOpening(lexicon: Lexicon, text: string): OpeningRead {
  const words = foldWords(text);
  const hits = matchPhrases(lexicon, words);
  const taken = hits.filter((hit) => !isHitDenied({ hit, hits, words }));
  const worst = worstOf(taken);
  const toHeard = ({ phrase: { finding, value }, start, end }: Hit): Heard => {
    return { finding, value, words: text.slice(words[start]?.from ?? 0, words[end - 1]?.to ?? 0) };
  };
  return {
    findings: Object.fromEntries([...worst].map(([finding, { value }]) => [finding, value])),
    because: taken.filter(({ phrase }) => worst.get(phrase.finding)?.value === phrase.value).map(toHeard),
    denied: hits.filter((hit) => !taken.includes(hit) && !worst.has(hit.phrase.finding)).map(toHeard),
  };
}

interface Place {
  readonly hit: Hit;
  readonly hits: readonly Hit[];
  readonly words: readonly Word[];
}

function isHitDenied({ hit, hits, words }: Place): boolean {
  switch (hit.phrase.deniedBy) {
    case 'nothing':
      return false;
    case 'adjacent':
      return hit.gaps.some((gap) => hasDenial(words, gap)) || isPlainlyDenied(words, hit, hits);
    case 'nearby':
      return hit.gaps.some((gap) => hasDenial(words, gap)) || isDenied(words, hit, hits);
  }
}

/** Of each finding the worst that was said; the first, where two are as bad. */
function worstOf(taken: readonly Hit[]): ReadonlyMap<FindingId, LexiconPhrase> {
  const worst = new Map<FindingId, LexiconPhrase>();
  for (const { phrase } of taken) {
    const known = worst.get(phrase.finding);
    if (known === undefined || phrase.rank > known.rank) worst.set(phrase.finding, phrase);
  }
  return worst;
}
