/** The codes that DEVELOPERS.md lists and the commands that README.md lists are the ones that there are. */
import { describe, expect, test } from 'vitest';
import { DIAGNOSTIC_CODES } from '../../src/content/diagnostic.ts';
import { FAULT_ANSWERS } from '../../src/server/errors.ts';
import { readText } from '../support/project-files.ts';

/** The first cell's code of every row of the table whose first heading is `heading`. */
function firstCells(markdown: string, heading: string): readonly string[] {
  const lines = markdown.split('\n');
  const from = lines.findIndex((line) => line.startsWith(`| ${heading} |`));
  if (from < 0) return [];
  const rows = lines.slice(from + 2);
  const end = rows.findIndex((line) => !line.startsWith('|'));
  return rows.slice(0, end < 0 ? undefined : end).flatMap((row) => (row.split('|')[1] ?? '').trim());
}

function listed(markdown: string, heading: string): readonly string[] {
  return firstCells(markdown, heading).map((cell) => cell.replaceAll('`', ''));
}

/** `npm run -s prove -- --json` names the script `prove`, `npm test` the script `test`. */
function scriptsIn(cells: readonly string[]): readonly string[] {
  return cells.flatMap((cell) =>
    [...cell.matchAll(/\bnpm (?:run (?:-s )?)?(?!run\b|ci\b)([a-z-]+)/g)].flatMap(([, name]) => name ?? []),
  );
}

const sorted = (names: Iterable<string>) => [...new Set(names)].sort();

describe('the tables are read', () => {
  const example =
    '| fault | when |\n| --- | --- |\n| `stale` | late |\n| `gone` | never |\n\n| other | x |\n';

  test('to their end and no further', () => {
    expect(listed(example, 'fault')).toEqual(['stale', 'gone']);
    expect(listed(example, 'diagnostic')).toEqual([]);
  });

  test('with every command of a row', () => {
    expect(scriptsIn(['`npm start`', '`npm test`, `npm run soak`, `npm run -s verify-log`'])).toEqual([
      'start',
      'test',
      'soak',
      'verify-log',
    ]);
  });
});

test('every fault is listed, and nothing else', () => {
  expect(sorted(listed(readText('DEVELOPERS.md'), 'fault'))).toEqual(sorted(Object.keys(FAULT_ANSWERS)));
});

test('every diagnostic is listed, and nothing else', () => {
  expect(sorted(listed(readText('DEVELOPERS.md'), 'diagnostic'))).toEqual(sorted(DIAGNOSTIC_CODES));
});

test('every script of the package is a command of the README, and the other way round', () => {
  const { scripts } = JSON.parse(readText('package.json')) as { scripts: Record<string, string> };
  expect(sorted(scriptsIn(firstCells(readText('README.md'), 'command')))).toEqual(
    sorted(Object.keys(scripts)),
  );
});
