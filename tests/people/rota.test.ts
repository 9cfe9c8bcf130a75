/**
 * Sources: the calendar of 2026 (2 March is a Monday) and the clock changes of Europe/London (IANA time zone database:
 * forward on 29 March 01:00 UTC, back on 25 October 01:00 UTC) worked by hand; luxon as reference for the day of a duty.
 */
import fc from 'fast-check';
import { DateTime } from 'luxon';
import { describe, expect, test } from 'vitest';
import { WEEKDAYS, type Weekday } from '../../src/basics/civil-time.ts';
import { rotaSchema, whoIsOnCall, type OnCallPlan } from '../../src/people/rota.ts';
import { staffMemberSchema } from '../../src/people/staff.ts';

/** One first-rung person a weekday, named by it, so that the answer shows the duty. */
const staff = [...WEEKDAYS.map((day) => `dr-${day}`), 'dr-second', 'dr-consultant', 'dr-last'].map((id, at) =>
  staffMemberSchema.parse({
    id,
    name: id,
    role: 'on-call-clinician',
    telephone: `+4477009000${String(at).padStart(2, '0')}`,
  }),
);

interface Change {
  readonly changesAt?: string;
  readonly swaps?: readonly { readonly on: string; readonly rung: string; readonly staff: string | null }[];
  readonly empty?: Weekday;
  readonly zone?: string;
}

function plan({ changesAt = '08:00', swaps = [], empty, zone = 'Europe/London' }: Change = {}): OnCallPlan {
  const week = WEEKDAYS.map((day) => {
    const isEmpty = day === empty;
    return [
      day,
      {
        first: isEmpty ? null : `dr-${day}`,
        second: isEmpty ? null : 'dr-second',
        consultant: isEmpty ? null : 'dr-consultant',
      },
    ] as const;
  });
  const rota = rotaSchema.parse({
    changesAt,
    week: Object.fromEntries(week),
    swaps,
    consultantOfLastResort: 'dr-last',
  });
  return { zone, rota, staff };
}

function first(at: string, change: Change = {}): string | null {
  const answer = whoIsOnCall(plan(change), Date.parse(at));
  return answer.ok ? (answer.value.ladder[0]?.staff.id ?? null) : null;
}

describe('a duty runs from the change on its day to the change on the next', () => {
  test.each([
    ['2026-03-02T08:00:00.000Z', 'dr-monday'],
    ['2026-03-02T07:59:59.999Z', 'dr-sunday'],
    ['2026-03-02T23:59:59.999Z', 'dr-monday'],
    ['2026-03-03T00:00:00.000Z', 'dr-monday'],
    ['2026-03-03T07:59:59.999Z', 'dr-monday'],
    ['2026-03-03T08:00:00.000Z', 'dr-tuesday'],
    // New Year: 31 December 2026 is a Thursday.
    ['2027-01-01T03:00:00.000Z', 'dr-thursday'],
  ])('%s: %s', (at, id) => {
    expect(first(at)).toBe(id);
  });

  test('the ladder is rung first, second, consultant', () => {
    const answer = whoIsOnCall(plan(), Date.parse('2026-03-02T12:00Z'));
    expect(answer).toMatchObject({
      ok: true,
      value: {
        duty: '2026-03-02',
        ladder: [
          { rung: 'first', staff: { id: 'dr-monday' } },
          { rung: 'second', staff: { id: 'dr-second' } },
          { rung: 'consultant', staff: { id: 'dr-consultant' } },
        ],
        gaps: [],
      },
    });
  });

  test('the day of a duty is the one that luxon finds, in any zone', () => {
    const zones = fc.constantFrom(
      'Europe/London',
      'America/New_York',
      'Australia/Lord_Howe',
      'Asia/Kathmandu',
    );
    const minutes = fc.integer({ min: 0, max: 2 * 366 * 24 * 60 });
    fc.assert(
      fc.property(zones, minutes, fc.constantFrom('00:00', '08:00', '20:30'), (zone, minute, changesAt) => {
        const at = DateTime.fromISO('2026-01-01T00:00:00Z').setZone(zone).plus({ minutes: minute });
        const [hours = 0, past = 0] = changesAt.split(':').map(Number);
        const begins = at.set({ hour: hours, minute: past, second: 0, millisecond: 0 });
        const duty = (at < begins ? at.minus({ days: 1 }) : at).toISODate();
        const answer = whoIsOnCall(plan({ zone, changesAt }), at.toMillis());
        expect(answer.ok ? answer.value.duty : null).toBe(duty);
      }),
      { seed: 20261025, numRuns: 1500 },
    );
  });
});

describe('clock changes', () => {
  test.each([
    // 08:00 in London is 08:00 UTC on Saturday 28 March and 07:00 UTC on Sunday 29 March.
    ['2026-03-28T07:59Z', '08:00', 'dr-friday'],
    ['2026-03-29T06:59Z', '08:00', 'dr-saturday'],
    ['2026-03-29T07:00Z', '08:00', 'dr-sunday'],
    // 01:30 does not exist on 29 March: the duty begins when the gap is over, 02:30 summer time = 01:30 UTC.
    ['2026-03-29T01:29Z', '01:30', 'dr-saturday'],
    ['2026-03-29T01:30Z', '01:30', 'dr-sunday'],
    // 01:30 comes twice on 25 October, at 00:30 and 01:30 UTC: the duty begins once, at the first.
    ['2026-10-25T00:29Z', '01:30', 'dr-saturday'],
    ['2026-10-25T00:30Z', '01:30', 'dr-sunday'],
    ['2026-10-25T01:00Z', '01:30', 'dr-sunday'],
    ['2026-10-25T01:29Z', '01:30', 'dr-sunday'],
    ['2026-10-25T01:30Z', '01:30', 'dr-sunday'],
  ])('at %s with a change at %s: %s', (at, changesAt, id) => {
    expect(first(at, { changesAt })).toBe(id);
  });
});

describe('swaps', () => {
  const swap = { on: '2026-03-02', rung: 'first', staff: 'dr-friday' } as const;

  test('a swap holds for its whole duty and no longer', () => {
    expect(first('2026-03-02T07:59Z', { swaps: [swap] })).toBe('dr-sunday');
    expect(first('2026-03-02T08:00Z', { swaps: [swap] })).toBe('dr-friday');
    expect(first('2026-03-03T07:59Z', { swaps: [swap] })).toBe('dr-friday');
    expect(first('2026-03-03T08:00Z', { swaps: [swap] })).toBe('dr-tuesday');
    expect(first('2026-03-09T12:00Z', { swaps: [swap] })).toBe('dr-monday');
  });

  test('the last swap of a rung on a day counts', () => {
    expect(first('2026-03-02T12:00Z', { swaps: [swap, { ...swap, staff: 'dr-saturday' }] })).toBe(
      'dr-saturday',
    );
  });

  test('a rung given up is a gap, and the next rung is rung', () => {
    const answer = whoIsOnCall(plan({ swaps: [{ ...swap, staff: null }] }), Date.parse('2026-03-02T12:00Z'));
    expect(answer).toMatchObject({
      ok: true,
      value: { ladder: [{ rung: 'second' }, { rung: 'consultant' }], gaps: ['first'] },
    });
  });

  test('somebody who is not on the staff is a gap', () => {
    const answer = whoIsOnCall(
      plan({ swaps: [{ ...swap, staff: 'dr-gone' }] }),
      Date.parse('2026-03-02T12:00Z'),
    );
    expect(answer).toMatchObject({ ok: true, value: { gaps: ['first'] } });
  });
});

describe('nobody on call is never silent', () => {
  const nobody = { code: 'nobody-on-call', lastResort: { id: 'dr-last' } };

  test('an empty duty names the consultant of last resort', () => {
    const monday = plan({ empty: 'monday' });
    expect(whoIsOnCall(monday, Date.parse('2026-03-02T12:00Z'))).toMatchObject({ ok: false, fault: nobody });
    expect(whoIsOnCall(monday, Date.parse('2026-03-03T12:00Z')).ok).toBe(true);
  });

  test('so do a zone and a time that cannot be read', () => {
    expect(whoIsOnCall({ ...plan(), zone: 'Europe/Saltmere' }, 0)).toMatchObject({
      ok: false,
      fault: nobody,
    });
    expect(whoIsOnCall(plan(), Number.NaN)).toMatchObject({ ok: false, fault: nobody });
  });

  test('where even that name is unknown, the answer says so with null', () => {
    const answer = whoIsOnCall({ ...plan({ empty: 'monday' }), staff: [] }, Date.parse('2026-03-02T12:00Z'));
    expect(answer).toMatchObject({ ok: false, fault: { code: 'nobody-on-call', lastResort: null } });
  });
});
