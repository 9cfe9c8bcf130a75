/** Numbers are shown as people of the country write them. */
import { expect, test } from 'vitest';
import { showTelephone } from '../../src/people/show-telephone.ts';

// Ofcom, "Telephone numbers for drama use", writes its ranges so: 020 7946 0..., 01632 960..., 07700 900..., 0808 157 0...
test.each([
  ['+442079460123', '020 7946 0123'],
  ['+441632960123', '01632 960123'],
  ['+447700900123', '07700 900123'],
  ['+448081570123', '0808 157 0123'],
])('%s is read as %s at home', (stored, shown) => {
  expect(showTelephone(stored, 'GB')).toBe(shown);
});

test('a number of another country keeps its country code', () => {
  // ITU-T E.123: the international form begins with a plus sign and the country code.
  expect(showTelephone('+442079460123', 'FR')).toMatch(/^\+44 /);
});

test('what is no number is shown as it is kept', () => {
  expect(showTelephone('ask the daughter', 'GB')).toBe('ask the daughter');
});
