/** GET /api/practice and GET /api/find over the running desk. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { findAnswerSchema } from '../../src/desk/contract/people.ts';
import { practiceAnswerSchema } from '../../src/desk/contract/practice.ts';
import { aDesk, DESK_NOW, type Desk } from '../support/a-desk.ts';
import { answerUntil, get, getAs, startCall } from '../support/desk-api.ts';

let desk: Desk;
beforeAll(async () => {
  desk = await aDesk('small');
});
afterAll(() => desk.remove());

function find(q: string) {
  return getAs(desk, `/api/find?q=${encodeURIComponent(q)}`, findAnswerSchema);
}

describe('the practice', () => {
  // Expected from flows/practice.yaml: the duty of Tuesday began at 08:00.
  test('names who is on call on a Tuesday, in the order of ringing, with numbers as people dial them', async () => {
    const practice = await getAs(desk, '/api/practice', practiceAnswerSchema);
    expect(practice.onCall.map(({ rung, name, shown }) => [rung, name, shown])).toEqual([
      ['first', 'Dr Kwabena Osei-Lund', '07700 900712'],
      ['second', 'Dr Ines Carrow', '07700 900713'],
      ['consultant', 'Miss Ottoline Farrant', '07700 900721'],
    ]);
    expect(practice.opening).toEqual({ open: true, until: '18:00', because: null });
    expect(practice.name).toBe('Tern Quay Clinic');
  });

  test('is closed at 03:00, when Monday’s duty still runs', async () => {
    desk.clock.moveTo(Date.parse('2026-03-10T03:00:00Z'));
    const practice = await getAs(desk, '/api/practice', practiceAnswerSchema);
    desk.clock.moveTo(DESK_NOW);
    expect(practice.opening.open).toBe(false);
    expect(practice.onCall[0]?.name).toBe('Dr Leila Farzan-Moss');
  });

  test('is closed on a holiday and says which', async () => {
    desk.clock.moveTo(Date.parse('2026-12-25T11:00:00Z'));
    const practice = await getAs(desk, '/api/practice', practiceAnswerSchema);
    desk.clock.moveTo(DESK_NOW);
    expect(practice.opening).toEqual({ open: false, until: null, because: 'Christmas Day' });
  });
});

describe('a patient is found', () => {
  test.each([
    '07700 900101',
    '+44 7700 900101',
    '020 7946 0121',
    'quennell',
    'Quenn',
    '17/05/1984',
    '1984-05-17',
  ])('by "%s"', async (q) => {
    const { found } = await find(q);
    expect(found.map(({ patient }) => patient.name)).toContain('Marisol Quennell');
  });

  // flows/demo/people.yaml: surgery two days ago, ended at 15:40; 10:00 today is 42 whole hours later.
  test('with the operation, its day and the hours of the first three days', async () => {
    const { found } = await find('Quennell');
    expect(found[0]?.operations[0]).toMatchObject({
      what: 'Breast lift with Tummy tuck',
      day: 2,
      hours: 42,
      side: 'both',
      surgeon: 'Miss Ottoline Farrant',
      drain: true,
      implant: false,
      block: true,
    });
    expect(found[0]?.patient.allergies).toEqual(['penicillin']);
  });

  test('without hours once the first three days are over, and without days that nobody recorded as "no"', async () => {
    const { found } = await find('Penrose');
    expect(found[0]?.operations[0]).toMatchObject({ day: 40, hours: null });
  });
});

describe('nobody is found', () => {
  test('by a name that no patient has, and that is understood as a name', async () => {
    expect(await find('Zzyzx')).toEqual({ understood: true, found: [], more: false });
  });

  test.each(['', '?', '12', '%00'])('by "%s", which is no number, name or date', async (q) => {
    expect(await find(q)).toEqual({ understood: false, found: [], more: false });
  });

  test.each(["O'Farrelly<script>", 'Robert"); DROP TABLE patients;--', 'a'.repeat(5000), '\u202eQuennell'])(
    'in trouble by hostile text %#',
    async (q) => {
      const response = await get(desk, `/api/find?q=${encodeURIComponent(q)}`);
      expect(response.status).toBe(200);
    },
  );

  test('when the question is missing or given twice', async () => {
    expect((await get(desk, '/api/find')).body).toMatchObject({ understood: false });
    expect((await get(desk, '/api/find?q=a&q=b')).body).toMatchObject({ understood: false });
  });
});

test('finding a patient shows nothing of earlier calls', async () => {
  const call = await answerUntil(desk, await startCall(desk), {});
  expect(call.at).toBe('outcome');
  const response = await get(desk, '/api/find?q=Quennell');
  expect(response.text).not.toContain(call.id);
  expect(response.text).not.toMatch(/advise|arrange-review|urgent/);
});
