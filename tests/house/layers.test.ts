/** The folder table of DEVELOPERS.md is the law on imports, and every import keeps it. */
import { describe, expect, test } from 'vitest';
import { readText } from '../support/project-files.ts';
import { readFolderTable, refusal, rowOf } from '../support/folder-table.ts';
import { parseFolder, parseSource } from '../support/source-file.ts';

const table = readFolderTable(readText('DEVELOPERS.md'));
const sources = parseFolder('src');

function refusalsIn(path: string, text: string): readonly string[] {
  return parseSource(path, text).imports.flatMap((found) => refusal(table, found) ?? []);
}

describe('the folder table', () => {
  test('is there, and there are files to hold it against', () => {
    expect(table.length).toBeGreaterThan(10);
    expect(sources.length).toBeGreaterThan(10);
  });

  test('has a row for every file, and names only folders that have a row', () => {
    expect(sources.filter(({ path }) => rowOf(table, path) === null).map(({ path }) => path)).toEqual([]);
    const named = table.flatMap((row) => [...row.values.names, ...row.types.names]);
    expect(named.filter((name) => !table.some((row) => row.name === name))).toEqual([]);
  });

  test('names only packages that the program depends on', () => {
    const { dependencies } = JSON.parse(readText('package.json')) as { dependencies: Record<string, string> };
    const named = table.flatMap((row) => row.packages.names).filter((name) => !name.startsWith('node:'));
    expect(named.filter((name) => dependencies[name] === undefined)).toEqual([]);
  });

  test('is kept by every import', () => {
    expect(sources.flatMap((file) => file.imports.flatMap((found) => refusal(table, found) ?? []))).toEqual(
      [],
    );
  });
});

describe('an import that the table does not allow is refused', () => {
  test.each([
    ['a folder further on', 'src/clinical/a.ts', "import { b } from '../call/b.ts';"],
    ['a value where only types may come', 'src/store/a.ts', "import { b } from '../call/b.ts';"],
    ['a value behind inline type names', 'src/store/a.ts', "import { type B } from '../call/b.ts';"],
    ['a value passed on', 'src/clinical/a.ts', "export { b } from '../call/b.ts';"],
    ['a value loaded late', 'src/clinical/a.ts', "const b = await import('../call/b.ts');"],
    ['an outside package', 'src/clinical/a.ts', "import { z } from 'zod';"],
    ['an outside type', 'src/clinical/a.ts', "import type { Z } from 'zod';"],
    ['the machine', 'src/clinical/a.ts', "import { readFileSync } from 'node:fs';"],
    ['the tests', 'src/clinical/a.ts', "import { b } from '../../tests/support/b.ts';"],
    ['a folder that "all but" leaves out', 'src/server/a.ts', "import { b } from '../terminal/b.ts';"],
    ['a folder without a row', 'src/clinical/a.ts', "import { b } from '../helpers/b.ts';"],
    ['the room around a closed inner one', 'src/desk/contract/a.ts', "import { b } from '../b.ts';"],
  ])('%s', (_what, path, text) => {
    expect(refusalsIn(path, text)).toHaveLength(1);
  });

  test.each([
    ['a folder before', 'src/clinical/a.ts', "import { b } from '../basics/b.ts';"],
    ['the same folder', 'src/clinical/a.ts', "import { b } from './b.ts';"],
    ['a type where types may come', 'src/store/a.ts', "import type { B } from '../call/b.ts';"],
    ['an inner room', 'src/desk/a.ts', "import { b } from './contract/b.ts';"],
    ['a package of the row', 'src/flow/a.ts', "import { z } from 'zod';"],
  ])('and one that it allows is not: %s', (_what, path, text) => {
    expect(refusalsIn(path, text)).toEqual([]);
  });
});
