/** How speech is cut into words; the letters and marks are Unicode's, the contractions are English grammar. */
import { expect, test } from 'vitest';
import { foldWords } from '../../src/understand/fold-words.ts';

function texts(said: string): readonly string[] {
  return foldWords(said).map(({ text }) => text);
}

test('capitals, accents and every kind of apostrophe fold to the same words', () => {
  expect(texts('Café CAFÉ cafe\u0301')).toEqual(['cafe', 'cafe', 'cafe']);
  expect(texts("can't can\u2019t cant cannot CAN\u02bcT")).toEqual(['cant', 'cant', 'cant', 'cant', 'cant']);
});

test('joined-on "is", "have" and "am" are left out, with an apostrophe or without', () => {
  expect(texts("it's its I've ive I'm im she's shes")).toEqual([
    'it',
    'it',
    'i',
    'i',
    'i',
    'i',
    'she',
    'she',
  ]);
});

test('"I’ll" does not become "ill"', () => {
  expect(texts('I’ll ring, I am ill')).toEqual(['i', 'ring', 'i', 'am', 'ill']);
});

test('a hyphen parts words; a point in a number does not', () => {
  expect(texts('blue-black, 38.2')).toEqual(['blue', 'black', '38.2']);
});

test('a clause ends at a stop, a comma, a dash and "but"', () => {
  const said = 'No pain, the nipple is dark. It is sore – but my leg is fine but not swollen';
  expect(foldWords(said).map(({ clause }) => clause)).toEqual([
    0, 0, 1, 1, 1, 1, 2, 2, 2, 3, 3, 3, 3, 3, 4, 4, 4,
  ]);
});

test('a word knows where it stands in what was said', () => {
  const said = 'Hello — my nipple’s blue';
  const [, , nipple] = foldWords(said);
  expect(said.slice(nipple?.from, nipple?.to)).toBe('nipple’s');
});

test('odd text gives no words and does not fail', () => {
  expect(texts('')).toEqual([]);
  expect(texts("' ’ ... !!")).toEqual([]);
});
