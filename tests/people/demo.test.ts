/** The demo's people at any moment. Sources: luxon as reference for dates; RFC 9562 for the form of ids. */
import { DateTime } from 'luxon';
import { describe, expect, test } from 'vitest';
import { checkShape } from '../../src/content/check-shape.ts';
import { readYaml } from '../../src/content/read-yaml.ts';
import { demoPeople, demoPeopleSchema, type DemoPeople, type PeopleOfDemo } from '../../src/people/demo.ts';
import { operationSchema, patientSchema } from '../../src/people/patient.ts';
import { readText } from '../support/project-files.ts';

const FILE = 'flows/demo/people.yaml';
const zone = 'Europe/London';

function readPeople(text: string): DemoPeople {
  const source = readYaml(FILE, text);
  const shape = source.ok ? checkShape(demoPeopleSchema, source.value) : source;
  if (!shape.ok)
    throw new Error(shape.fault.map(({ line, message }) => `${String(line)} ${message}`).join('\n'));
  return shape.value;
}

const people = readPeople(readText(FILE));

function peopleAt(now: string): PeopleOfDemo {
  const made = demoPeople(people, { now: Date.parse(now), zone });
  if (!made.ok) throw new Error(made.fault.message);
  return made.value;
}

const { patients, operations } = peopleAt('2026-03-04T10:00Z');

/** What stands in the list exactly twice. */
function twice(items: readonly string[]): readonly string[] {
  return [...new Set(items)].filter((item) => items.filter((each) => each === item).length === 2);
}

describe('the people of the demo', () => {
  test('are twelve, of every procedure that the practice does', () => {
    expect(patients).toHaveLength(12);
    expect([...new Set(operations.flatMap(({ procedures }) => procedures))].toSorted()).toEqual([
      'breast-augmentation',
      'breast-lift',
      'breast-reduction',
      'carpal-tunnel',
      'eyelid-surgery',
      'face-lift',
      'hernia-repair',
      'liposuction',
      'nose-surgery',
      'skin-graft',
      'skin-lesion',
      'tummy-tuck',
    ]);
  });

  test('are patients and operations as a store takes them, each id once', () => {
    for (const patient of patients) expect(patientSchema.parse(patient)).toEqual(patient);
    for (const operation of operations) expect(operationSchema.parse(operation)).toEqual(operation);
    const ids = [...patients, ...operations].map(({ id }) => id as string);
    expect(new Set(ids).size).toBe(ids.length);
    // RFC 9562, section 5.7: version 7, variant 10.
    for (const id of ids)
      expect(id).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
  });

  test('show what a call has to cope with', () => {
    const combined = operations.find(
      ({ procedures }) => procedures.includes('breast-lift') && procedures.includes('tummy-tuck'),
    );
    expect(combined).toMatchObject({ side: 'both', drain: true });
    expect(twice(operations.map(({ patientId }) => patientId))).toHaveLength(1);
    expect(operations.some(({ bloodThinner }) => bloodThinner === 'apixaban')).toBe(true);
    expect(operations.some(({ bloodThinner }) => bloodThinner === null)).toBe(true);
    expect(patients.some(({ weightUnder50kg }) => weightUnder50kg === true)).toBe(true);
    expect(patients.some(({ pregnant }) => pregnant === null)).toBe(true);
    expect(patients.some(({ contact }) => !contact.mayLeaveMessage && !contact.mayText)).toBe(true);
    expect(patients.some(({ contact }) => contact.maySpeakWith.length > 1)).toBe(true);
  });

  test('are rung only at their own numbers, and two of them share one', () => {
    for (const { contact, telephones } of patients)
      expect(telephones).toEqual(expect.arrayContaining(contact.mayBeRungAt));
    expect(twice(patients.flatMap(({ telephones }) => telephones))).toHaveLength(1);
  });

  test('are adults, today and later', () => {
    for (const { born } of patients) expect(born < '2010-01-01').toBe(true);
  });
});

describe('days count back from now', () => {
  test.each([
    '2026-03-04T10:00Z',
    '2026-03-04T00:00Z',
    '2026-03-30T23:30Z',
    '2026-10-25T00:30Z',
    '2026-10-26T23:59Z',
    '2031-12-31T23:59Z',
  ])('at %s every operation lies as far back as its file says, and none has yet to end', (now) => {
    const today = DateTime.fromISO(now, { zone }).startOf('day');
    const made = peopleAt(now).operations;
    const planned = people.flatMap(({ operations: own }) => own);
    expect(made).toHaveLength(planned.length);
    for (const [at, { when }] of planned.entries()) {
      const operation = made[at];
      if ('daysAgo' in when) {
        expect(operation?.on).toBe(today.minus({ days: when.daysAgo }).toISODate());
        const endedAt = operation?.endedAt ?? null;
        const clock = endedAt === null ? null : DateTime.fromMillis(endedAt, { zone }).toFormat('HH:mm');
        expect(clock).toBe(when.endedAtClock);
      } else {
        expect(operation?.endedAt).toBe(Date.parse(now) - when.endedHoursAgo * 3_600_000);
        expect(operation?.on).toBe(DateTime.fromMillis(operation?.endedAt ?? 0, { zone }).toISODate());
      }
      expect(operation?.endedAt ?? 0).toBeLessThan(Date.parse(now));
    }
  });

  test('ids, names and permissions do not change with the day', () => {
    const later = peopleAt('2027-07-01T12:00Z');
    expect(later.patients).toEqual(patients);
    expect(later.operations.map(({ id, patientId }) => [id, patientId])).toEqual(
      operations.map(({ id, patientId }) => [id, patientId]),
    );
  });

  test('a clock time today is refused, since it could lie ahead', () => {
    expect(() => readPeople(readText(FILE).replace('daysAgo: 1,', 'daysAgo: 0,'))).toThrow('at least 1');
  });

  test('a zone that is not known is a fault', () => {
    expect(demoPeople(people, { now: 0, zone: 'Europe/Saltmere' })).toMatchObject({
      ok: false,
      fault: { code: 'bad-request' },
    });
  });
});
