/** Says in plain words what a zod issue would have accepted. */
import type { z } from 'zod';

type Issue = z.core.$ZodIssue;

const KINDS: Readonly<Record<string, string>> = {
  string: 'text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  object: 'a group of keys',
  record: 'a group of keys',
  null: 'an empty value',
};

/** A noun phrase: `text`, `one of left, right`, `a number of at most 9`. */
export function accepted(issue: Issue): string {
  return ownWords(issue) ?? byCode(issue);
}

/** The schema's own words; null when the message is zod's. */
export function ownWords(issue: Issue): string | null {
  return /^(?:Invalid|Too|Unrecognized)\b/.test(issue.message) ? null : issue.message;
}

function byCode(issue: Issue): string {
  switch (issue.code) {
    case 'invalid_type':
      return KINDS[issue.expected] ?? issue.expected;
    case 'invalid_value':
      return `${issue.values.length > 1 ? 'one of ' : ''}${issue.values.map(String).join(', ')}`;
    case 'too_small':
      return limit(issue.origin, `${issue.inclusive === false ? 'more than' : 'at least'} ${issue.minimum}`);
    case 'too_big':
      return limit(issue.origin, `${issue.inclusive === false ? 'less than' : 'at most'} ${issue.maximum}`);
    case 'not_multiple_of':
      return `a multiple of ${issue.divisor}`;
    case 'invalid_format':
      return `text in the form ${issue.pattern ?? issue.format}`;
    case 'invalid_union':
      return alternatives(issue);
    case 'unrecognized_keys':
    case 'invalid_key':
    case 'invalid_element':
    case 'custom':
      return 'another value';
  }
}

function limit(origin: string, bound: string): string {
  if (origin === 'string') return `text of ${bound} character${bound.endsWith(' 1') ? '' : 's'}`;
  if (origin === 'array' || origin === 'set') return `a list of ${bound}`;
  return `a number of ${bound}`;
}

function alternatives(issue: z.core.$ZodIssueInvalidUnion): string {
  const options = 'options' in issue ? issue.options : undefined;
  if (options !== undefined) return `one of ${options.map(String).join(', ')}`;
  const each = new Set(issue.errors.map((issues) => issues.map(accepted).join(' and ')));
  return each.size === 0 ? 'another value' : [...each].join(' or ');
}
