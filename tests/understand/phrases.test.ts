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
  expect(single.filter((says) => !EVERYDAY.has(says.trim()))).toEqual([]);
});

test('every class that a phrase or a frame names has words', () => {
  const inPhrases = lexicon.phrases.flatMap(({ says }) =>
    [...says.matchAll(/@([a-z0-9]+)/g)].flatMap(([, name]) => name ?? []),
  );
  const inFrames = lexicon.frames.flatMap(({ of, is, with: also, without }) => [
    ...of,
    ...is,
    ...also,
    ...without,
  ]);
  const named = new Set([...inPhrases, ...inFrames, ...lexicon.parts, ...Object.values(lexicon.about)]);
  expect(named.size).toBeGreaterThan(50);
  expect([...named].filter((name) => name !== 'none' && lexicon.classes[name] === undefined)).toEqual([]);
});

/** Everyday turns of speech that any caller may use, though one labelled line only happens to hold them. */
const EVERYDAY: ReadonlySet<string> = new Set<string>([
  'cant keep her eyes open',
  'cant tell you the day',
  'dont go away when i press',
  'dont want to be here',
  'dont want to be here any more',
  'everyone would be better off',
  'hardly been out of bed',
  'i live on my own',
  'twice in the last hour',
]);
