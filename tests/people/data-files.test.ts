/**
 * The practice's own files. Sources: Ofcom, "Telephone numbers for drama use", for every number of the invented
 * practice; Ofcom's National Telephone Numbering Plan and NHS pages, from memory, for those of the country.
 */
import { describe, expect, test } from 'vitest';
import type { z } from 'zod';
import { WEEKDAYS } from '../../src/basics/civil-time.ts';
import { checkShape } from '../../src/content/check-shape.ts';
import { showDiagnostic } from '../../src/content/diagnostic.ts';
import { readYaml } from '../../src/content/read-yaml.ts';
import { placeSchema } from '../../src/people/places.ts';
import { openingHoursOf, practiceSchema, SEEN_AT } from '../../src/people/practice.ts';
import { whoIsOnCall } from '../../src/people/rota.ts';
import { ROLES } from '../../src/people/staff.ts';
import { listFiles, readText } from '../support/project-files.ts';

function load<TShape>(schema: z.ZodType<TShape>, file: string, text: string = readText(file)): TShape {
  const source = readYaml(file, text);
  const shape = source.ok ? checkShape(schema, source.value) : source;
  if (!shape.ok) throw new Error(shape.fault.map(showDiagnostic).join('\n'));
  return shape.value;
}

const practiceText = readText('flows/practice.yaml');
const practice = load(practiceSchema, 'flows/practice.yaml');

describe('the practice', () => {
  test('has somebody in every role, and each rung of every duty is taken', () => {
    expect(ROLES.filter((role) => !practice.staff.some((member) => member.role === role))).toEqual([]);
    for (const day of WEEKDAYS.keys()) {
      // 2 March 2026 is a Monday.
      const answer = whoIsOnCall(practice, Date.UTC(2026, 2, 2 + day, 12));
      expect(answer).toMatchObject({ ok: true, value: { gaps: [] } });
    }
  });

  test('says where each kind of urgent case is seen', () => {
    expect(Object.keys(practice.seenAt).toSorted()).toEqual([...SEEN_AT].toSorted());
  });

  test('hands on its hours with the closed weekday as null and the closed dates', () => {
    const hours = openingHoursOf(practice);
    expect(hours.zone).toBe('Europe/London');
    expect(hours.week.sunday).toBeNull();
    expect(hours.week.monday).toEqual({ opens: '08:00', closes: '18:00' });
    expect(hours.closedDates).toContain('2026-12-25');
  });

  test.each([
    ['a rota name that is not on the staff', 'consultant: idris-calloway', 'consultant: nobody-known'],
    [
      'a rota name of somebody who is no clinician',
      'consultantOfLastResort: ottoline-farrant',
      'consultantOfLastResort: hamish-orde',
    ],
    ['two people with one id', 'id: tomasz-wierzba', 'id: bronagh-tully'],
    ['a zone that is not known', 'Europe/London', 'Europe/Saltmere'],
    ['a day that closes before it opens', "closes: '13:00'", "closes: '08:59'"],
    ['a date that does not exist', "on: '2027-05-31'", "on: '2027-02-31'"],
    ['a national telephone number', "'+442079460100'", "'020 7946 0100'"],
    ['a weekday left out', '  sunday: closed\n', ''],
  ])('is refused with %s', (_what, from, to) => {
    expect(practiceText).toContain(from);
    const source = readYaml('practice.yaml', practiceText.replaceAll(from, to));
    expect(source.ok).toBe(true);
    if (source.ok) expect(checkShape(practiceSchema, source.value)).toMatchObject({ ok: false });
  });

  test('a wrong name in the rota is shown on its line', () => {
    const lines = practiceText.split('\n');
    const at = lines.findIndex((line) => line.includes('wednesday: { first:'));
    const wrong = lines
      .with(at, '    wednesday: { first: hamish-orde, second: null, consultant: null }')
      .join('\n');
    const source = readYaml('practice.yaml', wrong);
    const shape = source.ok ? checkShape(practiceSchema, source.value) : source;
    expect(shape).toMatchObject({
      fault: [{ line: at + 1, path: ['rota', 'week', 'wednesday', 'first'], code: 'wrong-shape' }],
    });
  });
});

test('the United Kingdom: 999, 111, and consent from 16', () => {
  const place = load(placeSchema, 'flows/places/uk.yaml');
  expect(place).toMatchObject({
    country: practice.country,
    emergency: { number: '999' },
    urgentAdvice: { number: '111' },
    crisis: { number: '111' },
    ageOfConsent: 16,
    units: { temperature: 'celsius' },
  });
});

/** Everything in a file that looks like a telephone number; comments and ids left out. */
function writtenIn(file: string): readonly string[] {
  const text = readText(file)
    .replace(/^\s*#.*$/gm, '')
    .replace(/[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}/g, '');
  return [...text.matchAll(/(?<![\w-])(?:\+|\(?0)\d[\d ()-]{7,}\d/g)].map(([written]) => written);
}

describe('every telephone number under flows', () => {
  const files = listFiles('flows', ['.yaml']).filter((file) => !file.startsWith('flows/places/'));
  const numbers = files.flatMap((file) =>
    writtenIn(file).map((written) => ({
      file,
      digits: written.replace(/[^\d+]/g, '').replace(/^0/, '+44'),
    })),
  );
  const drama = /^\+44(?:2079460\d{3}|1632960\d{3}|7700900\d{3}|8081570\d{3})$/;

  test('is one that Ofcom keeps for drama', () => {
    expect(numbers.length).toBeGreaterThan(30);
    expect(numbers.filter(({ digits }) => !drama.test(digits))).toEqual([]);
  });

  test('and no one at the practice shares a number', () => {
    const own = numbers.filter(({ file }) => file === 'flows/practice.yaml').map(({ digits }) => digits);
    expect(new Set(own).size).toBe(own.length);
  });
});
