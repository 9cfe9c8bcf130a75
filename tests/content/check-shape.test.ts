/** Facts about our own messages: each names the place, what stands there and what is accepted (common practice). */
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { checkShape } from '../../src/content/check-shape.ts';
import { readYaml } from '../../src/content/read-yaml.ts';

function check(schema: z.ZodType, text: string): readonly (readonly [string, number, string])[] {
  const source = readYaml('a.yaml', text);
  if (!source.ok) throw new Error('The text of this test is not YAML');
  const shape = checkShape(schema, source.value);
  return shape.ok ? [] : shape.fault.map(({ code, line, message }) => [code, line, message] as const);
}

test('what fits is handed on as the schema makes it', () => {
  const source = readYaml('a.yaml', 'days: [1, 2]\n');
  const schema = z.strictObject({ days: z.array(z.number().transform((day) => day + 1)) });
  expect(source.ok ? checkShape(schema, source.value) : null).toEqual({ ok: true, value: { days: [2, 3] } });
});

describe('one value that does not fit', () => {
  test.each([
    [z.number(), 'two', 'At a stands the text "two"; a number is accepted.'],
    [z.number().int(), '1.5', 'At a stands the number 1.5; a whole number is accepted.'],
    [z.number().min(1), '0', 'At a stands the number 0; a number of at least 1 is accepted.'],
    [z.number().gt(0), '0', 'At a stands the number 0; a number of more than 0 is accepted.'],
    [z.number().lt(9), '9', 'At a stands the number 9; a number of less than 9 is accepted.'],
    [z.number().multipleOf(5), '7', 'At a stands the number 7; a multiple of 5 is accepted.'],
    [z.string().min(1), '""', 'At a stands the text ""; text of at least 1 character is accepted.'],
    [z.array(z.string()).min(1), '[]', 'At a stands a list of 0; a list of at least 1 is accepted.'],
    [z.array(z.string()), '{ b: c }', 'At a stands a group of keys; a list is accepted.'],
    [z.boolean(), 'yes', 'At a stands the text "yes"; true or false is accepted.'],
    [z.string(), '', 'At a stands an empty value; text is accepted.'],
    [z.literal('left'), 'up', 'At a stands the text "up"; left is accepted.'],
    [z.enum(['left', 'right']), 'true', 'At a stands the value true; one of left, right is accepted.'],
    [z.string().regex(/^\d+$/, 'digits'), 'x', 'At a stands the text "x"; digits is accepted.'],
    [z.string().regex(/^\d+$/), 'x', 'At a stands the text "x"; text in the form /^\\d+$/ is accepted.'],
    [
      z.number().refine((n) => n !== 3, 'any day but 3'),
      '3',
      'At a stands the number 3; any day but 3 is accepted.',
    ],
    [z.union([z.string(), z.null()]), '[]', 'At a stands a list of 0; text or an empty value is accepted.'],
  ])('%# is described', (schema, written, message) => {
    expect(check(z.strictObject({ a: schema }), `a: ${written}\n`)).toEqual([['wrong-shape', 1, message]]);
  });

  test('long text is cut', () => {
    const [problem] = check(z.strictObject({ a: z.number() }), `a: ${'x'.repeat(200)}\n`);
    expect(problem?.[2]).toBe(`At a stands the text "${'x'.repeat(40)}..."; a number is accepted.`);
  });

  test('a number or boolean where text is required is text without quotes', () => {
    const schema = z.strictObject({ a: z.string(), b: z.union([z.string(), z.null()]) });
    expect(check(schema, 'a: 100\nb: true\n')).toEqual([
      ['unquoted-text', 1, 'At a stands the number 100 without quotes; text is accepted.'],
      ['unquoted-text', 2, 'At b stands the value true without quotes; text or an empty value is accepted.'],
    ]);
  });
});

describe('keys', () => {
  test('each unknown key is said with those that are known, on its own line', () => {
    const schema = z.strictObject({ on: z.string(), who: z.strictObject({ name: z.string() }) });
    expect(check(schema, 'on: "x"\nwho:\n  name: b\n  nmae: c\nof: d\n')).toEqual([
      ['unknown-key', 4, 'The key "nmae" at who is not known; one of name is accepted.'],
      ['unknown-key', 5, 'The key "of" at the top of the file is not known; one of on, who is accepted.'],
    ]);
  });

  test('of a listed record: one too many, and one missing', () => {
    const schema = z.record(z.enum(['monday', 'tuesday']), z.string());
    expect(check(schema, 'monday: a\nsunday: b\n')).toEqual([
      ['wrong-shape', 1, 'At tuesday nothing is written; text is accepted.'],
      [
        'unknown-key',
        2,
        'The key "sunday" at the top of the file is not known; one of monday, tuesday is accepted.',
      ],
    ]);
  });

  test('that do not have the form of a key', () => {
    const schema = z.strictObject({
      a: z.record(z.string().regex(/^[a-z]+$/, 'a lower-case word'), z.number()),
    });
    expect(check(schema, 'a:\n  good: 1\n  Bad: 2\n')).toEqual([
      ['unknown-key', 3, 'The key "Bad" at a is not known; a lower-case word is accepted.'],
    ]);
  });
});

describe('alternatives', () => {
  const test1 = z.strictObject({ finding: z.string(), in: z.array(z.string()) });
  const test2 = z.strictObject({ finding: z.string(), atLeast: z.number() });

  test('the one that fits best is explained', () => {
    expect(
      check(z.strictObject({ when: z.union([test1, test2]) }), 'when:\n  finding: fever\n  atLeast: high\n'),
    ).toEqual([['wrong-shape', 3, 'At when.atLeast stands the text "high"; a number is accepted.']]);
  });

  test('with a kind name their kinds when the kind is unknown', () => {
    const schema = z.discriminatedUnion('kind', [
      z.strictObject({ kind: z.literal('choice') }),
      z.strictObject({ kind: z.literal('number') }),
    ]);
    expect(check(z.strictObject({ a: schema }), 'a:\n  kind: text\n')).toEqual([
      ['wrong-shape', 2, 'At a.kind stands the text "text"; one of choice, number is accepted.'],
    ]);
  });
});
