/** The canonical text is that of JSON with its keys sorted, and the canonical form is what reading that text would give. */
import { expect, test } from 'vitest';
import { canonicalForm, canonicalJson } from '../../src/basics/json.ts';

const value = { b: [1, undefined, { z: null, a: 'ä' }], a: { y: undefined, x: true } };
// Written out by hand: keys sorted, an undefined member of a list null, an undefined key left out (RFC 8259 text).
const TEXT = '{"a":{"x":true},"b":[1,null,{"a":"ä","z":null}]}';

test('equal data has one text, whether it was put into its form before or not', () => {
  expect(canonicalJson(value)).toBe(TEXT);
  const form = canonicalForm(value);
  expect(canonicalJson(form)).toBe(TEXT);
  expect(canonicalJson(form)).toBe(TEXT);
  expect(JSON.stringify(form)).toBe(TEXT);
});

test('a form is frozen through and through, and stays the same object in another form', () => {
  const form = canonicalForm(value);
  expect(Object.isFrozen(form) && Object.isFrozen(form.b) && Object.isFrozen(form.b[2])).toBe(true);
  expect(canonicalForm(form)).toBe(form);
  expect(canonicalForm({ c: form.a }).c).toBe(form.a);
});

test('what was not frozen here is read anew each time', () => {
  const changing = { inner: { n: 1 } };
  expect(canonicalJson(changing)).toBe('{"inner":{"n":1}}');
  changing.inner.n = 2;
  expect(canonicalJson(changing)).toBe('{"inner":{"n":2}}');
});
