/** Words that belong in one place only: a country's numbers, the demo's telephone numbers, and no machine's paths. */
import { describe, expect, test } from 'vitest';
import { isScalar, parseAllDocuments, visit } from 'yaml';
import { listFiles, readText } from '../support/project-files.ts';
import { parseFolder } from '../support/source-file.ts';

const everything = listFiles('.', ['']).filter((path) => path !== 'package-lock.json');
const flowFiles = everything.filter((path) => path.startsWith('flows/') && path.endsWith('.yaml'));
const sources = parseFolder('src');

/** Emergency, urgent-advice and crisis lines of the United Kingdom, the European Union and the United States. */
const publicNumber =
  /(?<![\w+]|\d[ .,:-])(?:999|112|111|116[ -]?(?:123|117)|911|988)(?![\w%]|[.,:/-]\d| \d|°)/;

/** Ofcom, "Telephone numbers for drama use": London, no area, mobile and freephone, national or international. */
const dramaNumber =
  /(?:\+?44[ -]?(?:\(0\)[ -]?)?|0)(?:20[ -]?7946[ -]?0\d{3}|1632[ -]?960[ -]?\d{3}|7700[ -]?900[ -]?\d{3}|808[ -]?157[ -]?0\d{3})/;

const machinePath = /(?<![\w.~@*-])(?:\/(?:home|root|work|Users|workspace)\/\w|[A-Z]:\\\w)/;

const dramaPlaces = ['flows/demo/', 'flows/practice.yaml', 'demo-calls/', 'tests/'];

function textsIn(path: string): readonly string[] {
  const texts: string[] = [];
  for (const document of parseAllDocuments(readText(path)))
    visit(document, (_key, node) => {
      if (isScalar(node) && typeof node.value === 'string') texts.push(node.value);
    });
  return texts;
}

describe('the patterns know what they look for', () => {
  test.each(['Ring 999 now', 'call 112.', '111 option 2', 'ring 116 123', '116123', 'on 911, or'])(
    '"%s" names a public number',
    (text) => {
      expect(text).toMatch(publicNumber);
    },
  );

  test.each(['a pulse of 1112', '111-130', '36.111', 'A999B', '01632 960 111', 'v1.999', '#999', '112%'])(
    '"%s" does not',
    (text) => {
      expect(text.replace('#', 'x')).not.toMatch(publicNumber);
    },
  );

  // The ranges as Ofcom publishes them.
  test.each([
    '020 7946 0123',
    '+442079460999',
    '01632 960000',
    '07700900999',
    '+44 7700 900 123',
    '0808 157 0000',
  ])('%s is a drama number', (text) => {
    expect(text).toMatch(dramaNumber);
  });

  test.each(['"/home/someone/notes"', 'C:\\Users', ' /root/x'])('%s is a path of a machine', (text) => {
    expect(text).toMatch(machinePath);
  });
});

test('there are files to read', () => {
  expect(everything.length).toBeGreaterThan(20);
  expect(flowFiles.length).toBeGreaterThan(0);
  expect(sources.flatMap(({ literals }) => literals).length).toBeGreaterThan(10);
});

test('no file names a path of one machine', () => {
  const found = everything.filter(
    (path) => path !== 'tests/house/words.test.ts' && machinePath.test(readText(path)),
  );
  expect(found).toEqual([]);
});

test('the program names no public number of a country', () => {
  const found = sources.flatMap(({ path, literals }) =>
    literals.filter(({ text }) => publicNumber.test(text)).map(({ line }) => `${path}:${String(line)}`),
  );
  expect(found).toEqual([]);
});

test('flow files name public numbers only under flows/places', () => {
  const elsewhere = flowFiles.filter((path) => !path.startsWith('flows/places/'));
  expect(
    elsewhere.flatMap((path) =>
      textsIn(path)
        .filter((text) => publicNumber.test(text))
        .map((text) => `${path}: ${text}`),
    ),
  ).toEqual([]);
});

test('drama telephone numbers stay in the demo and the tests', () => {
  const elsewhere = everything.filter((path) => !dramaPlaces.some((place) => path.startsWith(place)));
  expect(elsewhere.filter((path) => dramaNumber.test(readText(path)))).toEqual([]);
});
