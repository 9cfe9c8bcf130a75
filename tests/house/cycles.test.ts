/** No file needs, at run time, a file that needs it. */
import { expect, test } from 'vitest';
import { findCycles } from '../support/import-cycles.ts';
import { parseFolder } from '../support/source-file.ts';

const sources = parseFolder('src');
const atRunTime = new Map(
  sources.map(({ path, imports }) => [
    path,
    imports.filter((found) => !found.outside && !found.typeOnly).map((found) => found.target),
  ]),
);

test('there are files and imports to look at', () => {
  expect(sources.length).toBeGreaterThan(10);
  expect([...atRunTime.values()].flat().length).toBeGreaterThan(0);
});

test('no files import each other', () => {
  expect(findCycles(atRunTime)).toEqual([]);
});

test('every import leads to a file that is there', () => {
  const known = new Set(sources.map(({ path }) => path));
  expect([...atRunTime.values()].flat().filter((target) => !known.has(target))).toEqual([]);
});

test('a circle is found wherever the walk begins, and a file that imports itself too', () => {
  const graph = new Map([
    ['a', ['b', 'd']],
    ['b', ['c']],
    ['c', ['b', 'd']],
    ['d', []],
    ['e', ['e', 'a']],
  ]);
  expect(findCycles(graph)).toEqual([['b', 'c'], ['e']]);
});
