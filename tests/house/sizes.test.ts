/** No file of the program grows beyond what one sitting can read. */
import { expect, test } from 'vitest';
import { listFiles, readText } from '../support/project-files.ts';

const mostLines = 400;
const paths = listFiles('src', ['.ts', '.tsx', '.css']);

test('there are files to measure', () => {
  expect(paths.length).toBeGreaterThan(10);
});

test(`no file under src has more than ${String(mostLines)} lines`, () => {
  const lines = paths.map((path) => ({ path, lines: readText(path).trimEnd().split('\n').length }));
  expect(lines.filter((file) => file.lines > mostLines)).toEqual([]);
});
