/** Cuts what was said into folded words: small letters, no accents, no apostrophes, with the clause each stands in. */
import { APOSTROPHE, CLAUSE_END, MARKS, SENTENCE_END, WORD } from './expressions.ts';

export interface Word {
  readonly text: string;
  /** Counted from 0; a new one begins after a full stop, a comma and the like, and at "but". */
  readonly clause: number;
  /** Counted from 0; a new one begins after a full stop and the like only. */
  readonly sentence: number;
  /** Where the word stands in what was said. */
  readonly from: number;
  readonly to: number;
}

/** Words that turn what follows away from what went before. */
const TURNS: ReadonlySet<string> = new Set(['but', 'though', 'although', 'however', 'except']);

/** What speech recognition writes without an apostrophe. `ill`, `well`, `id` and `wed` are words of their own. */
const UNMARKED: ReadonlyMap<string, string> = new Map([
  ['im', 'i'],
  ['ive', 'i'],
  ['its', 'it'],
  ['shes', 'she'],
  ['hes', 'he'],
  ['theyre', 'they'],
  ['theyve', 'they'],
  ['youre', 'you'],
  ['youve', 'you'],
  ['weve', 'we'],
  ['thats', 'that'],
  ['theres', 'there'],
  ['whats', 'what'],
  ['cannot', 'cant'],
]);

export function foldWords(said: string): readonly Word[] {
  const words: Word[] = [];
  let clause = 0;
  let sentence = 0;
  let end = 0;
  for (const match of said.matchAll(WORD)) {
    const text = foldWord(match[0]);
    const between = said.slice(end, match.index);
    if (words.length > 0) {
      if (CLAUSE_END.test(between) || TURNS.has(text)) clause += 1;
      if (SENTENCE_END.test(between)) sentence += 1;
    }
    end = match.index + match[0].length;
    words.push({ text, clause, sentence, from: match.index, to: end });
  }
  return words;
}

/** `can't` becomes `cant`; `it's`, `I've` and `they're` lose what the apostrophe joins on. */
function foldWord(word: string): string {
  const plain = word.toLowerCase().normalize('NFKD').replace(MARKS, '');
  const [stem = '', ...joined] = plain.split(APOSTROPHE);
  const suffix = joined.join('');
  const folded = stem.endsWith('n') && suffix === 't' ? `${stem}t` : stem;
  return UNMARKED.get(folded) ?? folded;
}
