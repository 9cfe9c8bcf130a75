/** Phrase files become one lexicon, or say all that is wrong. What is accepted is the project's own format. */
import { describe, expect, test } from 'vitest';
import type { FindingSpec, Vocabulary } from '../../src/clinical/finding.ts';
import { readPhrases } from '../../src/flow/phrases.ts';

const calf: FindingSpec = {
  id: 'calf-pain',
  group: 'legs-and-clots',
  kind: 'yes-no',
  is: 'pain in one calf',
  values: ['no', 'yes'],
  unit: null,
  min: null,
  max: null,
  step: 1,
  normal: 'no',
  worse: 'yes',
  order: null,
  optional: false,
  only: null,
  when: null,
};
const fluids: FindingSpec = { ...calf, id: 'keeps-fluids-down', normal: 'yes', worse: 'no' };
const breath: FindingSpec = { ...calf, id: 'breathless', group: 'immediate-danger' };
const driving: FindingSpec = { ...calf, id: 'asks-driving', group: 'everyday-questions', worse: 'neither' };
const pain: FindingSpec = {
  ...calf,
  id: 'pain-score',
  kind: 'number',
  values: [],
  min: 0,
  max: 10,
  worse: 'up',
};

const specs = [calf, fluids, breath, driving, pain];
const vocabulary: Vocabulary = {
  findings: Object.fromEntries(specs.map((spec) => [spec.id, spec])),
  ids: specs.map(({ id }) => id),
  procedures: [],
};

function read(...rows: readonly string[]) {
  const text = ['phrases:', ...rows.map((row) => `  - ${row}`)].join('\n');
  return readPhrases([{ file: 'flows/phrases/a.yaml', below: 'phrases/a.yaml', text }], vocabulary);
}

function lexiconOf(...rows: readonly string[]) {
  const result = read(...rows);
  if (!result.ok) throw new Error(result.fault.map(({ message }) => message).join(' '));
  return result.value;
}

function faultsOf(...rows: readonly string[]) {
  const result = read(...rows);
  return result.ok ? [] : result.fault.map(({ code, line }) => `${code} on ${String(line)}`);
}

describe('a phrase file', () => {
  test('becomes one phrase for each way of saying it', () => {
    const { lexicon } = lexiconOf('{ finding: calf-pain, value: yes, says: [sore calf, calf ... hurts] }');
    expect(lexicon.phrases.map(({ says, value }) => [says, value])).toEqual([
      ['sore calf', 'yes'],
      ['calf ... hurts', 'yes'],
    ]);
  });

  test('ranks the worse value higher, whichever way is worse', () => {
    const { lexicon } = lexiconOf(
      '{ finding: keeps-fluids-down, value: no, says: [nothing stays down] }',
      '{ finding: keeps-fluids-down, value: yes, says: [drinking fine] }',
      '{ finding: pain-score, value: 9, says: [nine out of ten] }',
      '{ finding: pain-score, value: 3, says: [three out of ten] }',
    );
    const [down, up, nine, three] = lexicon.phrases.map(({ rank }) => rank);
    expect(down).toBeGreaterThan(up ?? Infinity);
    expect(nine).toBeGreaterThan(three ?? Infinity);
  });

  test('a danger, a worry and an everyday question are denied in their own ways', () => {
    const { lexicon } = lexiconOf(
      '{ finding: breathless, value: yes, says: [puffed] }',
      '{ finding: calf-pain, value: yes, says: [sore calf] }',
      '{ finding: asks-driving, value: yes, says: [can I drive] }',
    );
    expect(lexicon.phrases.map(({ deniedBy }) => deniedBy)).toEqual(['adjacent', 'nearby', 'nothing']);
  });

  test('one changed word changes the hash, the same words give the same one', () => {
    const one = lexiconOf('{ finding: calf-pain, value: yes, says: [sore calf] }');
    const same = lexiconOf('{ finding: calf-pain, value: yes, says: [sore calf] }');
    const other = lexiconOf('{ finding: calf-pain, value: yes, says: [bad calf] }');
    expect(one.hash).toMatch(/^[0-9a-f]{64}$/);
    expect(same.hash).toBe(one.hash);
    expect(other.hash).not.toBe(one.hash);
  });
});

describe('what is refused, and where', () => {
  test('a finding that does not exist', () => {
    expect(faultsOf('{ finding: calf, value: yes, says: [sore calf] }')).toEqual(['unknown-finding on 2']);
  });

  test('a value that the finding cannot take, and "unsure", which words never mean', () => {
    expect(
      faultsOf(
        '{ finding: calf-pain, value: maybe, says: [sore calf] }',
        '{ finding: calf-pain, value: unsure, says: [some calf] }',
        '{ finding: pain-score, value: 11, says: [eleven out of ten] }',
      ),
    ).toEqual(['unknown-value on 2', 'unknown-value on 3', 'unknown-value on 4']);
  });

  test.each(['... sore calf', 'sore calf ...', 'sore, calf', 'sore  calf', "''"])(
    'the phrase "%s" has another shape',
    (says) => {
      expect(faultsOf(`{ finding: calf-pain, value: yes, says: ["${says}"] }`)).toEqual(['wrong-shape on 2']);
    },
  );

  test('an unknown key', () => {
    expect(faultsOf('{ finding: calf-pain, value: yes, said: [x], says: [sore calf] }')).toEqual([
      'unknown-key on 2',
    ]);
  });

  test('other files are left alone, and no phrase file is an empty lexicon', () => {
    const result = readPhrases([{ file: 'x', below: 'practice.yaml', text: ': :' }], vocabulary);
    expect(result).toMatchObject({ ok: true, value: { lexicon: { phrases: [], idioms: [] } } });
  });
});
