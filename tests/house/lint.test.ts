/** The lint configuration refuses what it is there to refuse, and leaves the owning files alone. */
import { ESLint } from 'eslint';
import { describe, expect, test } from 'vitest';
import { projectFolder } from '../support/project-files.ts';

const eslint = new ESLint({ cwd: projectFolder, overrideConfigFile: 'tests/house/eslint.config.js' });

/** The rules that a text breaks when it stands in the place of a file that exists. */
async function broken(path: string, text: string): Promise<readonly (string | null)[]> {
  const [result] = await eslint.lintText(text, { filePath: path });
  return [...new Set(result?.messages.map((message) => message.ruleId) ?? ['nothing was linted'])];
}

describe('refused in the program', () => {
  test.each([
    ['the time', 'export const a = Date.now();'],
    ['the time as a date', 'export const a = new Date();'],
    ['the time by another name', 'export const a = performance.now();'],
    ['a timer', 'export const a = setTimeout(() => undefined, 1);'],
    [
      'a timer that is imported',
      "import { setTimeout } from 'node:timers/promises';\nexport const a = setTimeout(1);",
    ],
    ['chance', 'export const a = Math.random();'],
    ['a random id', 'export const a = crypto.randomUUID();'],
    ['random bytes', "import { randomBytes } from 'node:crypto';\nexport const a = randomBytes(1);"],
    ['the console', "console.log('a');"],
    ['the environment', "export const a = process.env['A'];"],
    ['a default export', 'export default 1;'],
    ['a barrel', "export * from './result.ts';"],
    ['an enum', 'export enum A {\n  B,\n}'],
  ])('%s', async (_what, text) => {
    expect(await broken('src/basics/json.ts', text)).toContain('no-restricted-syntax');
  });

  test.each([
    ['max-params', 'export const f = (a: 1, b: 1, c: 1, d: 1, e: 1): unknown => [a, b, c, d, e];'],
    ['@typescript-eslint/no-floating-promises', 'export const f = (p: Promise<1>): void => {\n  p;\n};'],
    [
      '@typescript-eslint/no-misused-promises',
      'export const f = (p: Promise<boolean>): number => {\n  if (p) return 1;\n  return 2;\n};',
    ],
    [
      '@typescript-eslint/switch-exhaustiveness-check',
      "export const f = (a: 'b' | 'c'): void => {\n  switch (a) {\n    case 'b':\n  }\n};",
    ],
    ['@typescript-eslint/no-explicit-any', 'export const f = (a: any): void => undefined;'],
    ['@typescript-eslint/no-non-null-assertion', 'export const f = (a: 1 | null): 1 => a!;'],
    [
      '@typescript-eslint/consistent-type-imports',
      "import { Ok } from './result.ts';\nexport type A = Ok<1>;",
    ],
  ])('%s', async (rule, text) => {
    expect(await broken('src/basics/json.ts', text)).toContain(rule);
  });

  test('a default case in clinical code', async () => {
    const text = 'export const f = (a: number): void => {\n  switch (a) {\n    default:\n  }\n};';
    expect(await broken('src/clinical/outcome.ts', text)).toEqual(['no-restricted-syntax']);
    expect(await broken('src/basics/json.ts', text)).toEqual([]);
  });

  test('a rule that is silenced for nothing', async () => {
    const silencer = ['eslint', 'disable', 'next', 'line'].join('-');
    const text = `// ${silencer} eqeqeq\nexport const a = 1;`;
    const [result] = await eslint.lintText(text, { filePath: 'src/basics/json.ts' });
    expect(result?.messages.map(({ message }) => message)).toEqual([expect.stringContaining('Unused')]);
  });
});

describe('let through', () => {
  test('an owner may touch what it owns, and nothing else', async () => {
    expect(await broken('src/basics/system-clock.ts', 'export const a = Date.now();')).toEqual([]);
    expect(await broken('src/basics/system-clock.ts', 'export const a = Math.random();')).toEqual([
      'no-restricted-syntax',
    ]);
  });

  test('a date that is given is no question to the machine', async () => {
    expect(await broken('src/basics/json.ts', 'export const a = new Date(0);')).toEqual([]);
  });

  test('a test may read the environment but not the time or chance', async () => {
    const path = 'tests/support/seeded.ts';
    expect(await broken(path, "export const a = process.env['A'];")).toEqual([]);
    expect(await broken(path, 'export const a = Date.now();')).toEqual(['no-restricted-syntax']);
    expect(await broken(path, 'export const a = Math.random();')).toEqual(['no-restricted-syntax']);
  });
});
