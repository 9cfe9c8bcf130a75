/** What callers hear is plain: reading grade, length of questions, one short safety-net. */
import { fleschKincaid } from 'flesch-kincaid';
import { syllable } from 'syllable';
import { describe, expect, it } from 'vitest';
import { safetyNet, wordCount } from '../../src/call/advice.ts';
import { begin, moveTo, runnerOf, standingOf, step } from '../../src/call/step.ts';
import { realContent } from '../support/real-flows.ts';

const { library } = realContent();
const GRADE = 6;

/** Names of medicines and operations are left out of the grade, as is the number of words for one group of two. */
const NAMES =
  /\b(?:paracetamol|ibuprofen|antibiotics?|medicines?|thermometer|operation|operated|emergency|clinician|surgeon|appointment)\b/gi;

const flows = [...library.procedures, 'general'].map((id) => library.flowFor([id]).flow);
/** What is put together in combined operations is heard as well. */
const pairs = library.procedures.flatMap((a, at) =>
  library.procedures.slice(at + 1).map((b) => library.flowFor([a, b]).flow),
);
const questions = new Map(
  [...flows, ...pairs].flatMap((flow) => flow.questions.map((one) => [one.id, one] as const)),
);

describe('the words that callers hear', () => {
  // Kincaid 1975. The sentence, its 24 syllables and its grade of 11.3 are the published example of the formula; the
  // syllable counter finds 26 in it (Aus-tra-li-an, rep-til-i-an), which grades a little harder, never easier.
  it('are graded by a library that gives the published example of the formula', () => {
    const text = 'The Australian platypus is seemingly a hybrid of a mammal and reptilian creature.';
    expect(fleschKincaid({ sentence: 1, word: 13, syllable: 24 })).toBeCloseTo(11.3, 1);
    expect(syllable(text)).toBe(26);
    expect(gradeOf('The cat sat on the mat.')).toBeCloseTo(-1.45, 2);
  });

  it('are questions of at most 25 words', () => {
    const long = [...questions.values()].filter(({ words }) => wordCount(words) > 25);
    expect(long.map(({ id, words }) => `${id}: ${wordCount(words)}`)).toEqual([]);
  });

  it('are at reading grade 6 or lower, question by question', () => {
    const hard = [...questions.values()].flatMap(({ id, words, spoken }) =>
      [words, spoken]
        .filter((text) => gradeOf(text) > GRADE)
        .map((text) => `${id} (${gradeOf(text).toFixed(1)}): ${text}`),
    );
    expect(hard).toEqual([]);
  });

  it('are at reading grade 6 or lower in advice, usual course, signs and outcomes', () => {
    const texts = flows.flatMap((flow) => [
      ...flow.aftercare.map(({ say }) => say),
      ...flow.safetyNet.map(({ say }) => say),
      ...flow.normal.map(({ say }) => say),
      ...flow.rules.flatMap(({ effect }) => (effect.kind === 'red-flag' ? effect.untilSeen : [])),
      ...Object.values(flow.words.outcome.review),
      flow.words.emergency,
      flow.words.greeting,
      flow.words.outcome.advise,
      flow.words.outcome.urgent,
      flow.words.outcome.emergency,
    ]);
    const hard = [...new Set(texts)].filter((text) => gradeOf(text) > GRADE);
    expect(hard.map((text) => `${gradeOf(text).toFixed(1)}: ${text}`)).toEqual([]);
  });

  it('end in one safety-net of at most 120 words with three to five signs on every day', () => {
    for (const id of library.procedures) {
      const runner = runnerOf(library.flowFor([id]));
      for (let day = 0; day <= 365; day += 1) {
        const identified = step(runner, moveTo(runner, begin(runner)), {
          type: 'IDENTIFIED',
          times: [{ day, hours: null }],
          clinic: 'open',
          earlierCalls: [],
          known: {},
          facts: {},
        });
        if (!identified.ok) throw new Error('not identified');
        const standing = standingOf(runner, identified.value);
        const { flow } = runner.compiled;
        const text = safetyNet(flow, standing);
        expect(wordCount(text), `${id} day ${day}`).toBeLessThanOrEqual(120);
        const signs = new Set(flow.safetyNet.map(({ say }) => say).filter((say) => text.includes(say))).size;
        expect(signs, `${id} day ${day}`).toBeGreaterThanOrEqual(3);
        expect(signs, `${id} day ${day}`).toBeLessThanOrEqual(5);
      }
    }
  });
});

function gradeOf(text: string): number {
  const plain = text.replaceAll(NAMES, 'thing');
  const sentence = Math.max(1, (plain.match(/[.?!](?=\s|$)/g) ?? []).length);
  const words = plain.match(/[\p{L}\p{N}']+/gu) ?? [];
  return fleschKincaid({ sentence, word: words.length, syllable: syllable(plain) });
}
