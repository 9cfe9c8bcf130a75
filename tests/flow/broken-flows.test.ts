/**
 * Every broken flow file gives the code, the file and the line that stand in its first comment, and says what stands
 * there and what would be accepted. Each is laid over a small set of files in which nothing is wrong.
 */
import { basename, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { DIAGNOSTIC_CODES, type Diagnostic } from '../../src/content/diagnostic.ts';
import { readFolder, type TextFile } from '../../src/content/read-folder.ts';
import { loadFlows } from '../../src/flow/library.ts';
import { listFiles, projectFolder, readText } from '../support/project-files.ts';

const FOLDER = 'tests/fixtures/broken-flows';
const base = baseFiles();
const broken = listFiles(`${FOLDER}/broken`, ['.yaml']).map((path) => ({
  name: basename(path, '.yaml'),
  path,
  ...announced(path),
}));

function baseFiles(): readonly TextFile[] {
  const read = readFolder(join(projectFolder, FOLDER, 'base'));
  if (!read.ok) throw new Error('The base cannot be read');
  return read.value;
}

interface Announced {
  readonly below: string;
  readonly code: string;
  readonly line: number;
  readonly stands: string;
  readonly accepted: string;
}

function announced(path: string): Announced {
  const text = readText(path);
  const [, below = '', code = '', line = ''] = /^# as (\S+) gives (\S+) on line (\d+)$/m.exec(text) ?? [];
  const [, stands = ''] = /^# stands: (.+)$/m.exec(text) ?? [];
  const [, accepted = ''] = /^# accepted: (.+)$/m.exec(text) ?? [];
  return { below, code, line: Number(line), stands, accepted };
}

function problemsWith(file: TextFile): readonly Diagnostic[] {
  const loaded = loadFlows([...base.filter(({ below }) => below !== file.below), file]);
  return loaded.ok ? [] : loaded.fault;
}

describe('a broken flow file', () => {
  test('lies over files in which nothing is wrong', () => {
    expect(loadFlows(base)).toMatchObject({ ok: true });
    expect(broken.length).toBeGreaterThan(60);
  });

  test.each(broken)('$name', ({ path, below, code, line, stands, accepted }) => {
    const problems = problemsWith({ file: path, below, text: readText(path) });
    expect(problems.map((one) => one.code)).toContain(code);
    const found = problems.filter((one) => one.code === code && one.file === path && one.line === line);
    expect(found.map(({ message }) => message).join('\n')).toContain(accepted);
    expect(found.map(({ message }) => message).join('\n')).toContain(stands);
    expect(problems.filter(({ severity }) => severity !== 'error')).toEqual([]);
  });

  test('is there for every code that a check of flows can give', () => {
    const given = new Set(broken.map(({ code }) => code));
    expect(DIAGNOSTIC_CODES.filter((code) => !given.has(code))).toEqual([]);
  });
});

describe('nothing is half loaded', () => {
  test('one broken file among good ones leaves no library', () => {
    const [first] = broken;
    if (first === undefined) throw new Error('There is no broken file');
    const loaded = loadFlows([
      ...base.filter(({ below }) => below !== first.below),
      { file: first.path, below: first.below, text: readText(first.path) },
    ]);
    expect(loaded).toMatchObject({ ok: false });
    expect(loaded).not.toHaveProperty('value');
  });

  test('two broken files are both said at once', () => {
    const wrong = broken.filter(({ path }) =>
      /rule-value-outside|vocabulary-key|change-of-unknown-rule/.test(path),
    );
    const byFile = wrong.filter(({ code }) => code !== 'unknown-key');
    const kept = base.filter(({ below }) => !byFile.some((one) => one.below === below));
    const loaded = loadFlows([
      ...kept,
      ...byFile.map(({ path, below }) => ({ file: path, below, text: readText(path) })),
    ]);
    const codes = loaded.ok ? [] : loaded.fault.map(({ code }) => code);
    expect(codes.toSorted()).toEqual(byFile.map(({ code }) => code).toSorted());
    expect(byFile).toHaveLength(2);
  });

  test.each(['findings.yaml', 'concerns.yaml', 'words/en.yaml', 'procedures/general.yaml'])(
    'a missing %s is said',
    (name) => {
      const loaded = loadFlows(base.filter(({ below }) => below !== name));
      const faults = loaded.ok ? [] : loaded.fault;
      expect(faults.map(({ code, file }) => ({ code, file }))).toContainEqual({
        code: 'unreadable',
        file: name,
      });
    },
  );
});
