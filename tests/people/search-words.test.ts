/**
 * Sources: Ofcom, "Telephone numbers for drama use", for every number here; ITU-T E.164 for the stored form; RFC 3966
 * for tel: addresses; the written forms of dates in the United Kingdom are common practice, day before month.
 */
import fc from 'fast-check';
import { DateTime } from 'luxon';
import { describe, expect, test } from 'vitest';
import { readQuery } from '../../src/people/search-words.ts';

const place = { country: 'GB', today: '2026-03-02' };

describe('a telephone number is found however it is written', () => {
  test.each([
    ['020 7946 0123', '+442079460123'],
    ['(020) 7946-0123', '+442079460123'],
    ['020.7946.0123', '+442079460123'],
    ['+44 20 7946 0123', '+442079460123'],
    ['+44 (0)20 7946 0123', '+442079460123'],
    ['0044 20 7946 0123', '+442079460123'],
    ['tel:+44-20-7946-0123', '+442079460123'],
    ['01632 960123', '+441632960123'],
    ['+441632960999', '+441632960999'],
    ['07700 900123', '+447700900123'],
    ['07700900123', '+447700900123'],
    ['447700900123', '+447700900123'],
    ['07700\u00a0900\u2011123', '+447700900123'],
    ['０７７００ ９００１２３', '+447700900123'],
    ['  07700 900 123 (mobile) ', '+447700900123'],
    ['0808 157 0456', '+448081570456'],
  ])('%s', (typed, telephone) => {
    expect(readQuery(typed, place)).toEqual([{ by: 'telephone', telephone }]);
  });

  test('every number of the drama ranges, with any spacing, is the same number', () => {
    const ranges = fc.constantFrom(
      ['2079460', 3],
      ['1632960', 3],
      ['7700900', 3],
      ['8081570', 3],
    ) as fc.Arbitrary<readonly [string, number]>;
    fc.assert(
      fc.property(
        ranges,
        fc.nat(999),
        fc.array(fc.constantFrom('', ' ', '-'), { minLength: 11 }),
        (range, n, gaps) => {
          const national = range[0] + String(n).padStart(range[1], '0');
          const typed = `0${[...national].map((digit, at) => digit + (gaps[at] ?? '')).join('')}`;
          expect(readQuery(typed, place)).toContainEqual({ by: 'telephone', telephone: `+44${national}` });
        },
      ),
      { seed: 7946, numRuns: 300 },
    );
  });

  test('a number from abroad keeps its country; where the country is unknown only such a number is read', () => {
    // 555-0100 to 555-0199 are kept for fiction in the North American Numbering Plan.
    const abroad = [{ by: 'telephone', telephone: '+12125550100' }];
    expect(readQuery('+1 212 555 0100', place)).toEqual(abroad);
    expect(readQuery('+1 212 555 0100', { ...place, country: 'ZZ' })).toEqual(abroad);
    expect(readQuery('01632 960123', { ...place, country: 'ZZ' })).toEqual([]);
  });
});

describe('a birth date is found in any common form', () => {
  test.each([
    '3/4/1985',
    '03/04/1985',
    '3 / 4 / 1985',
    '03.04.85',
    '3.4.85',
    '3-4-1985',
    '03\u201304\u20131985',
    '3 April 1985',
    '3rd April 1985',
    '3rd of April, 1985',
    '3 Apr 85',
    '3-Apr-1985',
    'APRIL 3, 1985',
    'April 3rd 1985',
    '1985-04-03',
    '1985/4/3',
    '19850403',
    '030485',
    '3 4 1985',
  ])('%s', (typed) => {
    expect(readQuery(typed, place)).toContainEqual({ by: 'born', born: '1985-04-03' });
  });

  test('a date with separators is searched as a date alone', () => {
    expect(readQuery('3/4/1985', place)).toEqual([{ by: 'born', born: '1985-04-03' }]);
    expect(readQuery('22 Sept 1971', place)).toEqual([{ by: 'born', born: '1971-09-22' }]);
    expect(readQuery('1 May 2001', place)).toEqual([{ by: 'born', born: '2001-05-01' }]);
  });

  test('every date of a hundred years is read in each form that luxon writes in British English', () => {
    const formats = [
      'd/M/yyyy',
      'dd.MM.yyyy',
      'd MMMM yyyy',
      'd MMM yyyy',
      'dd-MM-yyyy',
      'yyyy-MM-dd',
      'MMMM d, yyyy',
    ];
    const days = fc.integer({ min: 0, max: 36_500 });
    fc.assert(
      fc.property(days, fc.constantFrom(...formats), (days, format) => {
        const date = DateTime.fromISO('1926-01-01', { zone: 'utc' }).plus({ days });
        const typed = date.setLocale('en-GB').toFormat(format);
        expect(readQuery(typed, place)).toContainEqual({ by: 'born', born: date.toISODate() });
      }),
      { seed: 1985, numRuns: 500 },
    );
  });

  test('two digits of a year give each century that is past and not beyond 120 years', () => {
    expect(readQuery('03.04.85', place)).toEqual([{ by: 'born', born: '1985-04-03' }]);
    expect(readQuery('1/2/24', place)).toEqual([
      { by: 'born', born: '1924-02-01' },
      { by: 'born', born: '2024-02-01' },
    ]);
    expect(readQuery('3/3/26', place)).toEqual([{ by: 'born', born: '1926-03-03' }]);
  });

  test.each(['31/4/1985', '29/2/1985', '4/13/1985', '3 Foo 1985', '3/3/2026', '1/1/1850', '0/1/1985'])(
    '%s is the birth date of nobody',
    (typed) => {
      expect(readQuery(typed, place)).toEqual([]);
    },
  );

  test('a leap day exists in a leap year', () => {
    // Gregorian rule: 2000 was a leap year, 1900 was not.
    expect(readQuery('29/2/2000', place)).toEqual([{ by: 'born', born: '2000-02-29' }]);
    expect(readQuery('29/02/1996', place)).toEqual([{ by: 'born', born: '1996-02-29' }]);
    expect(readQuery('29/2/1900', { ...place, today: '1950-01-01' })).toEqual([]);
  });
});

describe('a surname is searched by its beginning', () => {
  test.each([
    ['Smi', ['smi']],
    ["O'Farr", ['ofarr']],
    ['PENROSE-wójcik', ['penrosewojcik']],
    ['Müller', ['muller']],
    ['Mu\u0308ller', ['muller']],
    ['Łukasik', ['lukasik']],
    ['Quennell, Marisol', ['quennell']],
    ['van der Berg', ['vanderberg', 'berg']],
    ['Anna Smith', ['annasmith', 'smith']],
    ['李', ['李']],
  ])('%s', (typed, surnames) => {
    expect(readQuery(typed, place)).toEqual(surnames.map((surname) => ({ by: 'surname', surname })));
  });
});

test.each(['', '   ', 'S', '?!', '7', 'room 12b', '12/34', ', Anna'])(
  '"%s" searches for nothing',
  (typed) => {
    expect(readQuery(typed, place)).toEqual([]);
  },
);

test('any text gives searches in the stored forms or none', () => {
  fc.assert(
    fc.property(fc.string({ maxLength: 300, unit: 'binary' }), (typed) => {
      for (const query of readQuery(typed, place)) {
        if (query.by === 'telephone') expect(query.telephone).toMatch(/^\+\d{6,17}$/);
        if (query.by === 'born') expect(query.born).toMatch(/^\d{4}-\d{2}-\d{2}$/);
        if (query.by === 'surname') expect(query.surname).toMatch(/^\p{L}+$/u);
      }
    }),
    { seed: 3, numRuns: 1000 },
  );
});
