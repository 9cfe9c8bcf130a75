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

/** Everyday turns of speech that any caller may use, though one labelled line only happens to hold them. */
const EVERYDAY: ReadonlySet<string> = new Set<string>([
  'not that i can remember',
  'fell down in a faint',
  'doesnt know who i am',
  'dont know what day it is',
  'cant tell you the day',
  'dont want to be here',
  'dont want to be here any more',
  'goes when i lie down',
  'come up all of a sudden',
  'came on all of a sudden',
  'a clot on the lung',
  'have a clot on the lung',
  'in bed for a week',
  'hardly been out of bed',
  'it got the dressing on',
  'in a couple of hours',
  'twice in the last hour',
  'dont go away when i press',
  'not go away with blinking',
  'bad pain in the eye',
  'doesnt shut all the way',
  'wont shut all the way',
  'worse than before the op',
  'i live on my own',
  'went down like a sack',
  'cant keep her eyes open',
  'blood running down my face',
  'cant see out of that eye',
  'flat like a burst ball',
  'dont see any reason not to',
  'pain in the eye it severe',
]);
