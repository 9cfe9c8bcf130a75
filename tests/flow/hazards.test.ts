/**
 * The hazard list keeps the form of DCB0129, DCB0160 and ISO 14971: rated by the published matrix, every control shown
 * by a test that exists, nothing left that a practice may not accept.
 */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import ts from 'typescript';
import {
  LIKELIHOODS,
  ratingOf,
  readHazards,
  SEVERITIES,
  type HazardList,
  type Likelihood,
  type Rating,
  type Severity,
} from '../../src/flow/hazards.ts';
import { projectFolder, readText } from '../support/project-files.ts';
import { parseSource, walk } from '../support/source-file.ts';

const FILE = 'flows/hazards.yaml';
const list = read();
const rated = list.hazards.map((hazard) => ({
  id: hazard.id,
  hazard,
  before: ratingOf(hazard.before),
  after: ratingOf(hazard.after),
}));

function read(): HazardList {
  const hazards = readHazards({ file: FILE, below: 'hazards.yaml', text: readText(FILE) });
  if (!hazards.ok)
    throw new Error(hazards.fault.map(({ line, message }) => `${String(line)}: ${message}`).join('\n'));
  return hazards.value;
}

const titles = new Map<string, ReadonlySet<string>>();

/** Titles of the tests and groups of tests in a file, as they are written there. */
function titlesIn(file: string): ReadonlySet<string> {
  const known = titles.get(file);
  if (known !== undefined) return known;
  const found = new Set<string>();
  if (existsSync(join(projectFolder, file))) {
    walk(parseSource(file, readText(file)).tree, (node) => {
      if (!ts.isCallExpression(node) || !isTest(node.expression)) return;
      const [title] = node.arguments;
      if (title === undefined) return;
      if (ts.isStringLiteralLike(title)) found.add(title.text);
      if (ts.isTemplateExpression(title)) found.add(title.getText().slice(1, -1));
    });
  }
  titles.set(file, found);
  return found;
}

/** `it`, `test`, `describe`, and what `.each` of them gives. */
function isTest(callee: ts.Expression): boolean {
  if (ts.isIdentifier(callee)) return ['it', 'test', 'describe'].includes(callee.text);
  return (
    ts.isCallExpression(callee) &&
    ts.isPropertyAccessExpression(callee.expression) &&
    isTest(callee.expression.expression)
  );
}

describe('the matrix', () => {
  // Worked examples to the published matrix of the guidance to DCB0129.
  test.each<[string, Severity, Likelihood, Rating]>([
    ['a bleed in the neck judged too mild, one patient dies, low', 'major', 'low', 3],
    [
      'a wrong interval between doses shown to many, minor injury that heals, medium',
      'significant',
      'medium',
      2,
    ],
    ['the telephone line down for hours, several could die, very low', 'catastrophic', 'very-low', 3],
    ['a misheard date of surgery, severe injury with short recovery, high', 'considerable', 'high', 3],
    ['all pages lost without a sign, one patient dies, high', 'major', 'high', 4],
    ['several patients die, high', 'catastrophic', 'high', 5],
  ])('%s', (_example, severity, likelihood, rating) => {
    expect(ratingOf({ severity, likelihood })).toBe(rating);
  });

  test('never rates more harm, or harm more often, lower', () => {
    for (const [s, severity] of SEVERITIES.entries()) {
      for (const [l, likelihood] of LIKELIHOODS.entries()) {
        const rating = ratingOf({ severity, likelihood });
        const [worse, oftener] = [SEVERITIES[s + 1], LIKELIHOODS[l + 1]];
        if (worse !== undefined)
          expect(ratingOf({ severity: worse, likelihood })).toBeGreaterThanOrEqual(rating);
        if (oftener !== undefined)
          expect(ratingOf({ severity, likelihood: oftener })).toBeGreaterThanOrEqual(rating);
      }
    }
  });
});

describe('the list', () => {
  test('has about thirty hazards and says for what the program is and is not', () => {
    expect(list.hazards.length).toBeGreaterThanOrEqual(30);
    expect(list['intended-use']).toMatch(/clinician/);
    expect(list['not-for'].join(' ')).toMatch(/clinical judgement/);
    expect(list.standards.join(' ')).toMatch(/DCB0129.*DCB0160.*ISO 14971/);
  });

  test('is accepted by nobody until a clinical safety officer has reviewed it', () => {
    if (list['reviewed-by'] !== null) return;
    expect(rated.filter(({ hazard }) => hazard.status === 'accepted')).toEqual([]);
  });
});

describe.each(rated)('$id', ({ hazard, before, after }) => {
  test('names tests that exist', () => {
    const missing = hazard['shown-by'].filter(({ file, title }) => !titlesIn(file).has(title));
    expect(missing).toEqual([]);
  });

  test('is left with a rating of 3 at most, no higher than before, and a 3 says why', () => {
    expect(after).toBeLessThanOrEqual(3);
    expect(after).toBeLessThanOrEqual(before);
    expect(LIKELIHOODS.indexOf(hazard.after.likelihood)).toBeLessThanOrEqual(
      LIKELIHOODS.indexOf(hazard.before.likelihood),
    );
    expect(hazard['why-not-less'] !== undefined).toBe(after === 3);
  });
});

describe('a list that says otherwise is refused', () => {
  const text = readText(FILE);
  const problems = (changed: string) => {
    const hazards = readHazards({ file: FILE, below: 'hazards.yaml', text: changed });
    return hazards.ok ? [] : hazards.fault.map(({ code, line }) => ({ code, line }));
  };
  const lineOf = (what: string) => text.slice(0, text.indexOf(what)).split('\n').length;

  test('accepted though nobody has reviewed it', () => {
    const what = '    status: controlled';
    expect(problems(text.replace(what, '    status: accepted'))).toEqual([
      { code: 'wrong-shape', line: lineOf(what) },
    ]);
  });

  test('a severity that the matrix does not have, a rating by hand, a hazard without a test', () => {
    expect(problems(text.replace('severity: major', 'severity: fatal')).map(({ code }) => code)).toEqual([
      'wrong-shape',
    ]);
    expect(
      problems(text.replace('    effect:', '    rating: 1\n    effect:')).map(({ code }) => code),
    ).toEqual(['unknown-key']);
    expect(
      problems(text.replace(/ {4}shown-by:\n(?: {6}.*\n)+/, '    shown-by: []\n')).map(({ code }) => code),
    ).toEqual(['wrong-shape']);
  });

  test('the same id twice', () => {
    const [first = '', second = ''] = rated.map(({ id }) => id);
    expect(problems(text.replace(`- id: ${second}\n`, `- id: ${first}\n`)).map(({ code }) => code)).toEqual([
      'same-id',
    ]);
  });
});

test('a title that no test carries is noticed', () => {
  const here = titlesIn('tests/flow/hazards.test.ts');
  expect(here.has('a title that no test carries is noticed')).toBe(true);
  expect(here.has('names tests that exist')).toBe(true);
  expect(here.has('a title that nobody wrote')).toBe(false);
  expect(titlesIn('tests/flow/no-such-file.test.ts').size).toBe(0);
});
