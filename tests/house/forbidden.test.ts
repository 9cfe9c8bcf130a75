/** Ways around a check that nobody may take: skipped tests, silenced rules, replaced modules, `any`. */
import { describe, expect, test } from 'vitest';
import ts from 'typescript';
import type { SourceFile } from '../support/source-file.ts';
import { lineOf, parseFolder, parseSource, walk } from '../support/source-file.ts';

const sources = parseFolder('src');
const tests = parseFolder('tests');

// Written so that this file does not contain what it looks for.
const silenced = /eslint-dis[a]ble|@ts-(?:ign[o]re|noch[e]ck)|knip-ign[o]re|prettier-ign[o]re/;
const expectedError = /@ts-expect-err[o]r/;

const testWords = new Set(['test', 'it', 'describe', 'suite', 'bench']);
const waysOut = new Set(['only', 'skip', 'skipIf', 'runIf', 'todo', 'fails']);
const replacements = new Set(['mock', 'doMock', 'hoisted']);

/** The places in a file where one of the checks below finds what it looks for. */
function placesIn(file: SourceFile, isFound: (node: ts.Node) => boolean): readonly string[] {
  const places: string[] = [];
  walk(file.tree, (node) => {
    if (isFound(node)) places.push(`${file.path}:${String(lineOf(file.tree, node))}`);
  });
  return places;
}

function isWayOut(node: ts.Node): boolean {
  return ts.isPropertyAccessExpression(node) && waysOut.has(node.name.text) && testWords.has(rootOf(node));
}

function isReplacement(node: ts.Node): boolean {
  return ts.isPropertyAccessExpression(node) && replacements.has(node.name.text) && rootOf(node) === 'vi';
}

function isAny(node: ts.Node): boolean {
  return node.kind === ts.SyntaxKind.AnyKeyword;
}

function rootOf(node: ts.Expression): string {
  if (ts.isIdentifier(node)) return node.text;
  if (ts.isPropertyAccessExpression(node) || ts.isCallExpression(node)) return rootOf(node.expression);
  return '';
}

function linesWith(file: SourceFile, pattern: RegExp): readonly string[] {
  return file.text
    .split('\n')
    .flatMap((text, index) => (pattern.test(text) ? [`${file.path}:${String(index + 1)}`] : []));
}

test('there are files to look through', () => {
  expect(sources.length).toBeGreaterThan(10);
  expect(tests.length).toBeGreaterThan(5);
});

describe('nothing is left out, silenced or replaced', () => {
  test('no test is singled out, skipped or put off', () => {
    expect(tests.flatMap((file) => placesIn(file, isWayOut))).toEqual([]);
  });

  test('no rule is silenced', () => {
    expect([...sources, ...tests].flatMap((file) => linesWith(file, silenced))).toEqual([]);
    expect(sources.flatMap((file) => linesWith(file, expectedError))).toEqual([]);
  });

  test('no module is replaced in a test', () => {
    expect(tests.flatMap((file) => placesIn(file, isReplacement))).toEqual([]);
  });

  test('the program has no any', () => {
    expect(sources.flatMap((file) => placesIn(file, isAny))).toEqual([]);
  });
});

describe('the checks see what they look for', () => {
  test.each([
    ['test.only', isWayOut],
    ["describe.skip('a', f)", isWayOut],
    ['test.concurrent.todo', isWayOut],
    ['test.skipIf(true)', isWayOut],
    ["vi.mock('a')", isReplacement],
    ['const a = b as any', isAny],
    ['function a(b: any[]) {}', isAny],
  ])('%s', (text, isFound) => {
    expect(placesIn(parseSource('a.ts', text), isFound)).toEqual(['a.ts:1']);
  });

  test.each(['only', 'skip'])('but not %s in other words', (word) => {
    expect(placesIn(parseSource('a.ts', `rows.${word}('a'); const test = '${word}';`), isWayOut)).toEqual([]);
  });
});
