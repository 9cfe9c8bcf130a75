/**
 * What callers say first, against the findings they state. The sayings follow the lay wordings that nurses hear after
 * breast lifts and tummy tucks, and the traps of telephone triage (denial, idiom, lists): common practice.
 */
import { describe, expect, test } from 'vitest';
import type { FindingId, FindingValue } from '../../src/clinical/finding.ts';
import { readFolder } from '../../src/content/read-folder.ts';
import { readYaml } from '../../src/content/read-yaml.ts';
import { checkShape } from '../../src/content/check-shape.ts';
import { readPhrases } from '../../src/flow/phrases.ts';
import { vocabularySchema } from '../../src/flow/schema.ts';
import { toVocabulary } from '../../src/flow/vocabulary.ts';
import { understand, type Understood } from '../../src/understand/understand.ts';
import { readText } from '../support/project-files.ts';

const vocabulary = loadVocabulary();
const lexicon = loadLexicon();

function loadVocabulary() {
  const source = readYaml('findings.yaml', readText('flows/findings.yaml'));
  if (!source.ok) throw new Error('findings.yaml cannot be read');
  const data = checkShape(vocabularySchema, source.value);
  if (!data.ok) throw new Error('findings.yaml has another shape');
  return toVocabulary(data.value);
}

function loadLexicon() {
  const files = readFolder('flows');
  if (!files.ok) throw new Error('flows/ cannot be read');
  const read = readPhrases(files.value, vocabulary);
  if (!read.ok) throw new Error(read.fault.map(({ message }) => message).join(' '));
  return read.value.lexicon;
}

function hear(text: string): Understood {
  return understand(lexicon, vocabulary, {
    text,
    asked: null,
    procedure: null,
    day: null,
    hour: null,
    confidence: 1,
  });
}

type Row = readonly [said: string, finding: FindingId, value: FindingValue];

const dangers: readonly Row[] = [
  ['My breast is fine, only I’m puffed when I go to the loo', 'breathless', 'yes'],
  ['no I can’t breathe', 'breathless', 'yes'],
  ['I cant get my breath lying flat', 'breathless', 'yes'],
  ['She is fighting for breath', 'breathless', 'yes'],
  ['there’s a sharp pain when I breathe in', 'chest-pain', 'yes'],
  ['It’s like a tight band round my chest', 'chest-pain', 'yes'],
  ['I couldn’t sleep for chest pain', 'chest-pain', 'yes'],
  ['I coughed up a little bit of blood this morning', 'coughing-blood', 'yes'],
  ['I came over faint and my heart went', 'collapse', 'yes'],
  ['He passed out in the bathroom', 'collapse', 'yes'],
  ['It’s bleeding and it won’t stop bleeding', 'bleeding-heavy', 'yes'],
  ['Blood has soaked through two pads', 'bleeding-heavy', 'yes'],
  ['My lips are swelling since the tablet', 'face-or-tongue-swelling', 'yes'],
  ['it feels like my throat is closing', 'face-or-tongue-swelling', 'yes'],
  ['I can’t wake her properly', 'hard-to-wake', 'yes'],
  ['He keeps nodding off mid sentence', 'hard-to-wake', 'yes'],
  ['Mum’s seeing things', 'new-confusion', 'yes'],
  ['she’s not making sense', 'new-confusion', 'yes'],
  ['One side of my mouth has dropped', 'stroke-signs', 'yes'],
  ['his words are coming out wrong', 'stroke-signs', 'yes'],
  ['He’s just had a fit', 'fit', 'yes'],
  ['I don’t want to be here any more', 'self-harm-thoughts', 'yes'],
  ['They would be better off without me', 'self-harm-thoughts', 'yes'],
  ['Her lips have gone blue', 'mottled-or-blue', 'yes'],
];

const worries: readonly Row[] = [
  ['the left one’s a good bit bigger than the right', 'swelling', 'one-sided'],
  ['One breast is twice the size of the other one', 'swelling', 'one-sided'],
  ['It’s rock hard and throbbing on the left', 'swelling-tense', 'yes'],
  ['Suddenly it was much bigger', 'swelling-within-hours', 'yes'],
  ['my nipple’s gone purple', 'nipple-colour', 'dusky'],
  ['The nipple is white and cold like wax', 'nipple-colour', 'pale'],
  ['there’s a black edge round the areola', 'nipple-colour', 'black'],
  ['my belly button’s gone black', 'skin-colour', 'black'],
  ['A grey strip above the scar', 'skin-colour', 'dusky'],
  ['One calf is tight and sore', 'calf-pain', 'yes'],
  ['it hurts behind my knee when I walk', 'calf-pain', 'yes'],
  ['my left leg’s really swollen', 'one-leg-swollen', 'yes'],
  ['I can’t stop shaking', 'rigors', 'yes'],
  ['she is burning up', 'feels-feverish', 'yes'],
  ['There is a hole where the scars meet', 'wound-gap', 'open'],
  ['A little bit has come apart', 'wound-gap', 'small'],
  ['I can see yellow fat', 'wound-gap', 'open'],
  ['yellow gunk on the dressing', 'discharge', 'cloudy-or-pus'],
  ['It’s red and it is spreading', 'redness', 'spreading'],
  ['It’s sloshing under there when I turn', 'fluid-shifts', 'yes'],
  ['My tummy’s as hard as a board and I feel ill', 'belly-rigid-swollen', 'yes'],
  ['agony all over my belly', 'belly-pain-severe', 'yes'],
  ['My lips are tingling and there’s a metal taste', 'numb-tongue-or-ringing-ears', 'yes'],
  ['I’ve emptied it twice in the last hour', 'drain-filling-fast', 'yes'],
  ['The bulb is full of bright blood', 'drain-fluid', 'bright-blood'],
  ['the drain just fell out', 'drain-pulled-out', 'yes'],
  ['every time I sit up I’ve been sick', 'nausea', 'vomiting'],
  ['I can’t keep water down', 'keeps-fluids-down', 'no'],
  ['a bit of white thread is poking out', 'stitch-showing', 'yes'],
  ['I need to wee but nothing comes', 'bladder-painful', 'yes'],
  ['I can’t stop crying', 'low-mood', 'yes'],
  ['The painkillers aren’t touching it', 'pain-uncontrolled', 'yes'],
  ['It’s nine out of ten', 'pain-score', 9],
  ['I’m ringing for my wife', 'caller-is', 'relative-or-friend'],
  ['something’s badly wrong', 'caller-very-worried', 'yes'],
];

const everyday: readonly Row[] = [
  ['When can I drive again?', 'asks-driving', 'yes'],
  ['Nobody has told me when can I shower', 'asks-washing', 'yes'],
  ['Is it OK to fly next week', 'asks-flying', 'yes'],
  ['Am I allowed back to the gym', 'asks-exercise', 'yes'],
  ['When can I go back to work', 'asks-work', 'yes'],
  ['How long do I wear the binder', 'asks-support-garment', 'yes'],
  ['what scar cream is best', 'asks-scar-care', 'yes'],
  ['when do my stitches come out', 'asks-stitches-or-tape', 'yes'],
  ['When is my next appointment', 'asks-next-visit', 'yes'],
  ['Can I take ibuprofen', 'asks-medicines', 'yes'],
  ['May I sleep on my side yet', 'asks-sleeping-position', 'yes'],
];

describe('what is said plainly is taken', () => {
  test.each([...dangers, ...worries, ...everyday])('"%s" states %s', (said, finding, value) => {
    expect(hear(said).findings).toHaveProperty(finding, value);
  });

  test('the callers’ own words stand behind each finding', () => {
    expect(hear('Well, erm, my nipple’s gone purple today.').because).toContainEqual(
      expect.objectContaining({ finding: 'nipple-colour', value: 'dusky', words: 'nipple’s gone purple' }),
    );
  });

  test('of two values the worse counts', () => {
    expect(hear('A red line along the scar, then it was red and spreading').findings).toHaveProperty(
      'redness',
      'spreading',
    );
    expect(hear('I felt sick and then I’ve been sick').findings).toHaveProperty('nausea', 'vomiting');
  });

  test('several things in one breath are all taken', () => {
    expect(hear('My calf is sore and I am out of breath, can you see me').findings).toEqual({
      'calf-pain': 'yes',
      breathless: 'yes',
    });
  });

  test('without apostrophes and in capitals it is the same', () => {
    expect(hear('I CANT BREATHE').findings).toEqual(hear('I can’t breathe').findings);
    expect(hear('my nipples gone, its gone dark, shes not making sense').findings).toHaveProperty(
      'new-confusion',
    );
  });
});

describe('what is denied is never taken as said', () => {
  const denied: readonly (readonly [said: string, finding: FindingId])[] = [
    ['I’m not short of breath', 'breathless'],
    ['no chest pain or shortness of breath', 'breathless'],
    ['I haven’t got any chest pain', 'chest-pain'],
    ['without any chest pain', 'chest-pain'],
    ['It’s never been bleeding heavily', 'bleeding-heavy'],
    ['My calf doesn’t feel sore, it’s not one leg swollen', 'one-leg-swollen'],
  ];

  test.each(denied)('"%s" settles no', (said, finding) => {
    expect(hear(said).findings).toHaveProperty(finding, 'no');
  });

  test.each([
    ['The nipple isn’t dark', 'nipple-colour', 'dusky'],
    ['There is no pus', 'discharge', 'cloudy-or-pus'],
    ['one breast isn’t any bigger', 'swelling', 'one-sided'],
    ['I can’t see any redness spreading', 'redness', 'spreading'],
    ['there isn’t a hole where the scars meet', 'wound-gap', 'open'],
  ])('"%s" does not state %s', (said, finding, value) => {
    expect(hear(said).findings[finding]).not.toBe(value);
  });

  test('a denial ends where the clause ends', () => {
    expect(hear('No pain, the nipple is dark').findings).toHaveProperty('nipple-colour', 'dusky');
    expect(hear('It’s not sore but my calf is swollen').findings).toHaveProperty('one-leg-swollen', 'yes');
  });

  test('a danger said once outweighs one denied elsewhere', () => {
    const read = hear('I’ve no chest pain now. I had chest pain all night');
    expect(read.findings).toHaveProperty('chest-pain', 'yes');
  });

  test('"not sure", "don’t know" and "not just" deny nothing', () => {
    expect(hear('I don’t know why one leg is swollen').findings).toHaveProperty('one-leg-swollen', 'yes');
    expect(hear('I’m not sure if it’s chest pain').findings).toHaveProperty('chest-pain', 'unsure');
    expect(hear('It’s not just rock hard').findings).toHaveProperty('swelling-tense', 'yes');
  });
});

describe('words that only sound alike', () => {
  test.each([
    'The water is hot and the scarf is red',
    'I passed water fine',
    'Everything is lovely, thank you',
    'Can’t lift my arms above my head yet, is that all right?',
    'I’m all muddled about which tablets go when',
    'She had a fit about the bill',
    'My puffin wallpaper',
    '',
    '?!... ---',
  ])('"%s" states no danger', (said) => {
    const found = Object.keys(hear(said).findings);
    expect(found.filter((id) => vocabulary.findings[id]?.group === 'immediate-danger')).toEqual([]);
  });

  test('nearly fainting is light-headed, not a collapse', () => {
    expect(hear('I nearly fainted in the shower').findings).toEqual({ 'dizzy-standing': 'yes' });
  });

  test('a phrase is found as whole words only', () => {
    expect(hear('unfainted breathlessness-free').findings).not.toHaveProperty('collapse');
  });
});

describe('the table itself', () => {
  const patientSpeech = Object.values(vocabulary.findings).filter(
    ({ group }) => group === 'immediate-danger',
  );

  test('every immediate danger can be said in at least six ways', () => {
    for (const { id } of patientSpeech) {
      const ways = lexicon.phrases.filter(({ finding }) => finding === id);
      expect(ways.length, id).toBeGreaterThanOrEqual(6);
    }
    expect(patientSpeech.length).toBeGreaterThan(10);
  });

  test('every everyday question can be said in at least six ways', () => {
    const asked = Object.values(vocabulary.findings).filter(({ group }) => group === 'everyday-questions');
    for (const { id } of asked) {
      expect(lexicon.phrases.filter(({ finding }) => finding === id).length, id).toBeGreaterThanOrEqual(6);
    }
    expect(asked.length).toBeGreaterThan(8);
  });

  test('no phrase states two values of one finding', () => {
    const keys = new Map<string, Set<string>>();
    for (const { finding, says, value, onlyAsked } of lexicon.phrases) {
      if (value === null || onlyAsked) continue;
      const key = `${finding}: ${says}`;
      keys.set(key, (keys.get(key) ?? new Set()).add(String(value)));
    }
    expect([...keys].filter(([, values]) => values.size > 1).map(([key]) => key)).toEqual([]);
  });
});
