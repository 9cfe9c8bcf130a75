/** What is read back, and what the known slips of speech recognition come to. Rules of a safe call; slips as measured on a telephone band. */
import { describe, expect, test } from 'vitest';
import { RED_FLAG_QUESTIONS } from '../../src/understand/read-aloud-policy.ts';
import { UNSURE_IS_URGENT } from '../../src/flow/law.ts';
import { nextReading } from '../../src/call/hear.ts';
import { withPhrase } from '../../src/flow/phrases.ts';
import { understand } from '../../src/understand/understand.ts';
import { hear, lexicon, vocabulary } from './the-lexicon.ts';

describe('a reassuring answer to a red-flag question', () => {
  test('stands when it is plain and was heard well', () => {
    expect(hear('no', { asked: 'chest-pain', confidence: 0.9 })).toMatchObject({
      findings: { 'chest-pain': 'no' },
      confirm: [],
    });
  });
  test('is read back below a confidence of 0.6', () => {
    expect(hear('no', { asked: 'chest-pain', confidence: 0.59 }).confirm).toEqual(['chest-pain']);
    expect(hear('no', { asked: 'chest-pain', confidence: 0.6 }).confirm).toEqual([]);
  });
  test('is read back when it is hedged', () => {
    expect(hear('not really', { asked: 'breathless' }).confirm).toEqual(['breathless']);
    expect(hear("I wouldn't say so", { asked: 'breathless' }).confirm).toEqual(['breathless']);
  });
});

test('a worrying answer stands as it was said, however badly heard', () => {
  expect(hear('yes', { asked: 'chest-pain', confidence: 0 })).toMatchObject({
    findings: { 'chest-pain': 'yes' },
    danger: true,
    confirm: [],
  });
});

test('a danger that has passed without a time is read back and never settled as no', () => {
  const read = hear('I was breathless, not any more', { asked: 'breathless' });
  expect(read.findings['breathless']).not.toBe('no');
  expect(read.confirm).toEqual(['breathless']);
});

test('stroke signs, collapse, a fit and loss of sight count although they are over', () => {
  expect(hear('I fainted three days ago but I am fine now').danger).toBe(true);
  expect(hear('my speech was slurred yesterday, fine now').danger).toBe(true);
});

test('the law and the reading agree on what is a red-flag question', () => {
  for (const id of UNSURE_IS_URGENT) expect(RED_FLAG_QUESTIONS).toContain(id);
});

describe('the slips seen on the telephone end in a read-back or in danger', () => {
  test('"I can\'t breathe" heard as "I can breathe"', () => {
    const read = hear('I can breathe', { asked: 'breathless', confidence: 0.5 });
    expect(read.danger || read.confirm.includes('breathless') || !read.understood).toBe(true);
  });
  test('38.5 heard as 38.9 stays a fever', () => {
    expect(hear('thirty eight point nine', { asked: 'temperature', confidence: 0.5 }).findings).toEqual({
      temperature: 38.9,
    });
  });
  test('"four days ago" heard as "five days ago" settles no danger as no', () => {
    for (const days of ['four', 'five'])
      expect(hear(`I had chest pain ${days} days ago`).confirm).toEqual(['chest-pain']);
  });
});

test('two failed readings offer the keypad, and a third a person', () => {
  expect([0, 1, 2, 3, 4].map(nextReading)).toEqual(['speech', 'speech', 'keypad', 'person', 'person']);
});

test('a phrase that is tried is heard at once, and one of an unknown finding is refused', () => {
  const phrase = { says: 'gone like a blackcurrant pastille', finding: 'nipple-colour', value: 'dusky' };
  const more = withPhrase(lexicon, vocabulary, phrase);
  const said = { asked: null, procedure: null, day: null, hour: null, confidence: 1 };
  const read = more === null ? null : understand(more, vocabulary, { ...said, text: phrase.says });
  expect(read?.findings).toEqual({ 'nipple-colour': 'dusky' });
  expect(withPhrase(lexicon, vocabulary, { ...phrase, finding: 'no-such-finding' })).toBeNull();
});
