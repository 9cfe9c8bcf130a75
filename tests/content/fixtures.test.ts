/**
 * Every broken file gives the code and line that stand in its first comment. What is broken in each is fixed by
 * YAML 1.2.2: unique keys 3.2.1.1, tabs 6.1, directives 6.8, aliases 7.1, core schema 10.3.2; or by common practice.
 */
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { checkShape } from '../../src/content/check-shape.ts';
import { DIAGNOSTIC_CODES, showDiagnostic, type Diagnostic } from '../../src/content/diagnostic.ts';
import { readYaml } from '../../src/content/read-yaml.ts';
import { listFiles, readText } from '../support/project-files.ts';

const fixtures = listFiles('tests/fixtures/content', ['.yaml']);

const visitSchema = z.strictObject({
  name: z.string(),
  telephone: z.string(),
  day: z.number().int().min(0).max(365),
  side: z.enum(['left', 'right']),
});

function problemsOf(file: string): readonly Diagnostic[] {
  const source = readYaml(file, readText(file));
  if (!source.ok) return source.fault;
  const shape = checkShape(visitSchema, source.value);
  return shape.ok ? [] : shape.fault;
}

function announced(file: string): { readonly code: string; readonly line: number } {
  const [, code = '', line = ''] = /# gives (\S+) on line (\d+)/.exec(readText(file)) ?? [];
  return { code, line: Number(line) };
}

describe('a broken file says what is wrong and where', () => {
  test.each(fixtures)('%s', (file) => {
    const [first, ...others] = problemsOf(file);
    expect(others.filter(({ code }) => code !== first?.code)).toEqual([]);
    expect(first).toMatchObject({ ...announced(file), file, severity: 'error' });
    expect(first?.message).toMatch(
      /^[A-Z"].* (?:is|are) accepted( as a key| once)?\.$|^This is not YAML 1\.2: .+\.$/,
    );
  });

  test('and each code of reading and shape has such a file', () => {
    const given = new Set(fixtures.map((file) => announced(file).code));
    const ofContent = ['unreadable', 'duplicate-key', 'alias', 'wrong-shape', 'unknown-key', 'unquoted-text'];
    expect([...given].toSorted()).toEqual(ofContent.toSorted());
    expect(DIAGNOSTIC_CODES.filter((code) => ofContent.includes(code))).toHaveLength(ofContent.length);
  });
});

test('everything that is wrong is said at once, in the order of the lines', () => {
  const text = 'name: &a Clinic\ntelephone: +442079460100\nday: 3\nday: 4\nside: *a\n';
  const source = readYaml('visit.yaml', text);
  expect(source.ok ? [] : source.fault.map(({ code, line }) => [code, line])).toEqual([
    ['alias', 1],
    ['unquoted-text', 2],
    ['duplicate-key', 4],
    ['alias', 5],
  ]);
});

test('a diagnostic is shown in one line with file, line and code', () => {
  const [problem] = problemsOf('tests/fixtures/content/unknown-key.yaml');
  expect(problem === undefined ? '' : showDiagnostic(problem)).toBe(
    'tests/fixtures/content/unknown-key.yaml:6 unknown-key: The key "surgoen" at the top of the file is not known; ' +
      'one of name, telephone, day, side is accepted.',
  );
});
