/** That a line which failed was mended by a rule that helps others, and never by its own wording. */
import { expect, test } from 'vitest';
import { foldWords } from '../../src/understand/fold-words.ts';
import { lexicon, lines } from './the-lexicon.ts';

const fold = (text: string): string =>
  ` ${foldWords(text)
    .map((word) => word.text)
    .join(' ')} `;

test('no phrase of five words and more is the wording of one labelled line only', () => {
  const texts = lines.map(({ text }) => fold(text));
  const long = lexicon.phrases
    .filter(({ says }) => !/[@&]|\.\.\./.test(says))
    .map(({ says }) => fold(says))
    .filter((says) => says.trim().split(' ').length >= 5);
  const single = long.filter((says) => texts.filter((text) => text.includes(says)).length === 1);
  expect(single.filter((says) => !OLDER.has(says.trim()))).toEqual([]);
});

/** Stood in the lexicon before the labelled lines were written. */
const OLDER: ReadonlySet<string> = new Set<string>([]);
