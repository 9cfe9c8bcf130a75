/** The top folder holds a fixed set of names; all other configuration lives with what it serves. */
import { readdirSync } from 'node:fs';
import { expect, test } from 'vitest';
import { projectFolder } from '../support/project-files.ts';

const documents = ['README.md', 'DEVELOPERS.md'];
const manifests = ['package.json', 'package-lock.json', 'tsconfig.json'];
const folders = ['src', 'flows', 'tests', 'demo-calls'];
const installed = ['node_modules'];

test('nothing stands at the top but the given names and dot files', () => {
  const names = readdirSync(projectFolder).filter((name) => !name.startsWith('.'));
  expect(names).toContain('package.json');
  const given = new Set([...documents, ...manifests, ...folders, ...installed]);
  expect(names.filter((name) => !given.has(name))).toEqual([]);
});
