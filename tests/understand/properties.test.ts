/** What must hold of any words at all. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { foldWords } from '../../src/understand/fold-words.ts';
import { hear, lexicon, lines, vocabulary } from './the-lexicon.ts';

const openings = lines
  .filter(({ kind, asked }) => kind !== 'reply' && asked === null)
  .map(({ text }) => text);
const anOpening = fc.constantFrom(...openings);

describe('never change a finding', () => {
  test('capitals', () => {
    fc.assert(
      fc.property(anOpening, (text) => {
        expect(hear(text.toUpperCase()).findings).toEqual(hear(text).findings);
      }),
      { numRuns: 150 },
    );
  });

  test('a full stop at the end, and exclamation marks', () => {
    fc.assert(
      fc.property(anOpening, fc.constantFrom('.', '!', '!!!', '...'), (text, mark) => {
        const bare = text.replace(/[.!?]+$/, '');
        expect(hear(`${bare}${mark}`).findings).toEqual(hear(bare).findings);
      }),
      { numRuns: 150 },
    );
  });

  test('fillers and politeness', () => {
    const filler = fc.constantFrom('um, ', 'erm, ', 'well, ', 'hello, ', 'sorry to bother you. ', 'please. ');
    fc.assert(
      fc.property(
        anOpening,
        filler,
        fc.constantFrom('', ', please', ', thank you', '. Thanks.'),
        (text, first, last) => {
          const bare = text.replace(/[.!?]+$/, '');
          expect(hear(`${first}${bare}${last}`).findings).toEqual(hear(bare).findings);
        },
      ),
      { numRuns: 150 },
    );
  });
});

test('"I am not" in front of a danger never leaves it set', () => {
  const dangers = [
    'short of breath',
    'breathless',
    'coughing blood',
    'confused',
    'suicidal',
    'fainting',
    'slurring',
    'collapsing',
    'drowsy',
    'bleeding heavily',
    'having chest pain',
    'having a fit',
    'mottled',
  ];
  for (const danger of dangers) {
    expect(hear(`I am ${danger}`).danger, danger).toBe(true);
    expect(hear(`I am not ${danger}`).danger, danger).toBe(false);
    expect(hear(`I'm not ${danger}`).danger, danger).toBe(false);
  }
});

describe('any input', () => {
  test('gives values that the vocabulary knows', () => {
    const ids = vocabulary.ids;
    fc.assert(
      fc.property(
        fc.string({ unit: 'binary', maxLength: 300 }),
        fc.constantFrom(null, ...ids),
        (text, asked) => {
          for (const id of Object.keys(hear(text, { asked }).findings)) expect(ids).toContain(id);
        },
      ),
      { numRuns: 200 },
    );
  });

  test.each([
    ['nothing', ''],
    ['emoji', '😭🩸👍🏽'.repeat(500)],
    ['null bytes', '\0'.repeat(5000)],
    ['100 kB of one letter', 'a'.repeat(100_000)],
    ['100 kB of a phrase', 'my leg is swollen and '.repeat(4600)],
    ['100 kB of "no"', 'no '.repeat(33_000)],
    ['100 kB of figures', '7 or 8 '.repeat(14_000)],
    ['apostrophes', "it's'".repeat(20_000)],
    ['combining marks', 'e\u0301\u0300'.repeat(30_000)],
    ['another script', 'не могу дышать 呼吸困難 لا أستطيع التنفس'],
  ])('of %s is read in bounded work', (_what, text) => {
    const read = hear(text);
    expect(read.because.length).toBeLessThan(5000);
    // The work is bounded by the words that are looked at, whatever was sent.
    expect(foldWords(text.slice(0, 4003)).length).toBeLessThanOrEqual(4003);
  });

  test('is read the same however often', () => {
    for (const { text } of lines.slice(0, 40)) expect(hear(text)).toEqual(hear(text));
  });
});

test('every phrase that states something can be heard', () => {
  expect(lexicon.phrases.length).toBeGreaterThan(2000);
});
