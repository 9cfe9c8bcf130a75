/** The words that a query looks for are the words that a patient is kept under. */
import { describe, expect, it } from 'vitest';
import { readQuery } from '../../src/people/search-words.ts';
import { tokenOf, tokensOf } from '../../src/store/search-tokens.ts';
import { aPatient } from '../contract/a-patient.ts';

const KEY = Buffer.alloc(32, 5);
const PLACE = { country: 'GB', today: '2026-03-02' };

describe('a surname', () => {
  it.each([
    ['Brackwater', 'brackw'],
    ["O'Thornbury", 'othorn'],
    ['Ångquist-Łowe', 'angquist lowe'],
    ['Großwald', 'GROSSWALD'],
    ['Æthelmere', 'aethel'],
    ['de la Wrenfield', 'de la wr'],
    ['Ïvarsdottir', 'ivarsdottir'],
  ])('%s is found as typed: %s', (surname, typed) => {
    const tokens = tokensOf(aPatient({ surname }), KEY);
    const looked = readQuery(typed, PLACE).map((query) => tokenOf(query, KEY));
    expect(looked.some((token) => token !== null && tokens.includes(token))).toBe(true);
  });

  it('longer than the longest beginning is found by all of its letters', () => {
    const surname = 'Wrenfieldthornburyquillfeatherington';
    const token = tokenOf({ by: 'surname', surname: surname.toLowerCase() }, KEY);
    expect(tokensOf(aPatient({ surname }), KEY)).toContain(token);
  });
});

describe('a telephone number', () => {
  it('is found in the form in which it is dialled', () => {
    const tokens = tokensOf(aPatient({ telephones: ['+441632960123'] }), KEY);
    const looked = readQuery('01632 960123', PLACE).map((query) => tokenOf(query, KEY));
    expect(looked.some((token) => token !== null && tokens.includes(token))).toBe(true);
  });
});

describe('the tokens', () => {
  it('are others under another key', () => {
    const patient = aPatient();
    const other = tokensOf(patient, Buffer.alloc(32, 6));
    expect(tokensOf(patient, KEY).filter((token) => other.includes(token))).toEqual([]);
  });
});
