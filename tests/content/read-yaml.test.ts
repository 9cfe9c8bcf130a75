/** Sources: YAML 1.2.2 (core schema 10.3.2, relation to JSON 1.3) and ECMA-404 (JSON) through JSON.parse. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Diagnostic } from '../../src/content/diagnostic.ts';
import { readYaml, type YamlSource } from '../../src/content/read-yaml.ts';

function read(text: string): YamlSource {
  const source = readYaml('a.yaml', text);
  if (!source.ok) throw new Error(source.fault.map(({ message }) => message).join(' '));
  return source.value;
}

function problems(text: string): readonly Diagnostic[] {
  const source = readYaml('a.yaml', text);
  return source.ok ? [] : source.fault;
}

describe('plain values are read as the core schema says', () => {
  // YAML 1.2.2, 10.3.2: only these words are null, true and false; yes, no, on and off are text.
  test.each([
    ['~', null],
    ['null', null],
    ['', null],
    ['true', true],
    ['false', false],
    ['yes', 'yes'],
    ['no', 'no'],
    ['on', 'on'],
    ['off', 'off'],
    ['0', 0],
    ['-19', -19],
    ['38.5', 38.5],
    ['5-10', '5-10'],
    ['"999"', '999'],
    ["'2026-03-02'", '2026-03-02'],
  ])('%s', (written, value) => {
    expect(read(`a: ${written}\n`).data).toEqual({ a: value });
  });

  // The numbers of 10.3.2 that other readers take differently, or that lose their written form.
  test.each(['0o7', '0x3A', '+12e03', '-2E+05', '.inf', '.nan', '.5', '007', '+5', '12345678901234567'])(
    '%s is refused without quotes and kept with them',
    (written) => {
      expect(problems(`a: ${written}\n`).map(({ code }) => code)).toEqual(['unquoted-text']);
      expect(read(`a: "${written}"\n`).data).toEqual({ a: written });
    },
  );

  // YAML 1.1 readers take 15:40 for 940 and 2026-03-02 for a moment in time.
  test.each([
    '15:40',
    '2026-03-02',
    '3.4.1985',
    '03/04/85',
    '01632 960123',
    '(020) 7946 0100',
    '+447700900123',
  ])('%s is refused without quotes', (written) => {
    expect(problems(`- ${written}\n`)).toMatchObject([{ code: 'unquoted-text', line: 1, path: [0] }]);
  });

  test('text that only begins like a date or number stays text', () => {
    const texts = ['3 to 5 days', '10 minutes', '0-5', '48 h', 'abc123def', '2 March 2026'];
    expect(read(texts.map((text) => `- ${text}\n`).join('')).data).toEqual(texts);
  });
});

test('every JSON document reads as JSON.parse reads it', () => {
  const leaf = fc.oneof(fc.string(), fc.boolean(), fc.constant(null), fc.integer());
  const key = fc.string().filter((text) => text !== '__proto__' && text !== '<<');
  const { tree } = fc.letrec((tie) => ({
    tree: fc.oneof(
      { depthSize: 'small' },
      leaf,
      fc.array(tie('tree'), { maxLength: 4 }),
      fc.dictionary(key, tie('tree'), { maxKeys: 4 }),
    ),
  }));
  fc.assert(
    fc.property(tree, (data) => {
      const json = JSON.stringify(data, null, 2);
      expect(read(json).data).toEqual(JSON.parse(json));
    }),
    { seed: 404, numRuns: 300 },
  );
});

test('no text makes the reader throw, and a refused text has at least one line', () => {
  const piece = fc.constantFrom(
    'a',
    ': ',
    '\n',
    '- ',
    '  ',
    '\t',
    '"',
    "'",
    '[',
    '}',
    '{',
    '&x ',
    '*x',
    '!t ',
    '|',
    '#',
    '?',
    '%',
    '---',
    '0',
    '\u2028',
  );
  fc.assert(
    fc.property(fc.array(piece, { maxLength: 40 }), (pieces) => {
      const source = readYaml('a.yaml', pieces.join(''));
      if (!source.ok) expect(Math.min(...source.fault.map(({ line }) => line))).toBeGreaterThan(0);
    }),
    { seed: 12, numRuns: 2000 },
  );
});

test.each([
  ['lists', '['.repeat(5000) + ']'.repeat(5000)],
  ['groups', Array.from({ length: 500 }, (_, depth) => `${' '.repeat(depth)}a:`).join('\n')],
])('%s nested without end are refused', (_what, text) => {
  expect(problems(text).map(({ message }) => message)).toContain(
    'The file is nested too deeply; 40 levels are accepted.',
  );
});

describe('the line of a path', () => {
  const source = read(
    [
      '# a comment',
      'name: Tern Quay',
      'week:',
      '  monday:',
      '    opens: "08:00"',
      'staff:',
      '  - id: a',
      '    role: nurse',
      '  - id: b',
      '"2": two',
    ].join('\n'),
  );

  test.each([
    [['name'], 2],
    [['week', 'monday'], 4],
    [['week', 'monday', 'opens'], 5],
    [['staff', 0], 7],
    [['staff', 0, 'role'], 8],
    [['staff', 1, 'id'], 9],
    [['2'], 10],
    [[2], 10],
    [[], 2],
  ])('%j is where its key or item stands', (path, line) => {
    expect(source.lineOf(path)).toBe(line);
  });

  test.each([
    [['week', 'monday', 'closes'], 4],
    [['staff', 1, 'role'], 9],
    [['staff', 7], 6],
    [['nothing', 'here'], 2],
  ])('%j, which is missing, is where the nearest thing around it stands', (path, line) => {
    expect(source.lineOf(path)).toBe(line);
  });
});
