/** The words of the handover are content, and no wording of them can lose what it has to name. */
import { join } from 'node:path';
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { libraryWith } from '../support/a-practice.ts';
import { projectFolder } from '../support/project-files.ts';

const WORDS = join(projectFolder, 'tests', 'fixtures', 'flows-rules', 'words', 'en.yaml');

function withWords(change: (text: string) => string) {
  const text = change(readFileSync(WORDS, 'utf8'));
  return libraryWith([{ file: 'words/en.yaml', below: 'words/en.yaml', text }]);
}

test('a number to ring back that is left out of its sentence is refused, with the line and what is accepted', () => {
  expect(() => withWords((text) => text.replace('Ring back on {number}.', 'Ring back soon.'))).toThrow(
    /words\/en\.yaml:\d+ wrong-shape: .*\{number\}/,
  );
});

test('another wording that names it is taken', () => {
  const library = withWords((text) => text.replace('Ring back on {number}.', 'Number: {number}.'));
  expect(library.general.flow.words.handover['ring-back']).toBe('Number: {number}.');
});
