/** Every view and change of a patient's data leaves an entry, which the lead nurse and the administrator read. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { auditAnswerSchema, type AuditAnswer } from '../../src/desk/contract/audit.ts';
import { ROUTES } from '../../src/desk/routes.ts';
import { aDesk, DESK_NOW, type Desk } from '../support/a-desk.ts';
import { get, getAs, QUENNELL, startCall, turn } from '../support/desk-api.ts';

let desk: Desk;
beforeAll(async () => {
  desk = await aDesk('small');
});
afterAll(() => desk.remove());

function trail(on = ''): Promise<AuditAnswer> {
  return getAs(desk.as('lead-nurse'), `/api/audit?q=${encodeURIComponent(on)}`, auditAnswerSchema);
}

function acts({ entries }: AuditAnswer): readonly string[] {
  return entries.map(({ what }) => what);
}

describe('the audit trail', () => {
  test('has who found, started, changed and viewed what, when and from where, newest first', async () => {
    await get(desk, '/api/find?q=Quennell');
    const call = await startCall(desk);
    await turn(desk, call.id, { kind: 'note', text: 'Marisol sounds well.' });
    await get(desk, `/api/calls/${call.id}`);
    await get(desk, `/api/calls/${call.id}/record`);
    const about = await trail(call.id);
    expect(acts(about)).toEqual([
      'get /api/calls/:id/record',
      'get /api/calls/:id',
      'post /api/calls/:id/turns note',
      'post /api/calls',
    ]);
    const [entry] = about.entries;
    expect(entry).toMatchObject({
      who: { id: 'bronagh-tully', name: 'Bronagh Tully', role: 'nurse' },
      at: { at: DESK_NOW },
      from: '127.0.0.1',
    });
    expect(acts(await trail(QUENNELL.patient))).toContain('get /api/find');
  });

  test('holds ids and no word of a call, no name of a patient, no search', async () => {
    const text = JSON.stringify((await trail()).entries.map(({ what, about }) => [what, about]));
    expect(text).not.toMatch(/Quennell|Marisol|sounds/);
    expect(text).toContain(QUENNELL.patient);
  });

  test('has one entry for the same look again and again, and one for each change', async () => {
    const call = await startCall(desk);
    for (const _look of [1, 2, 3]) await get(desk, `/api/calls/${call.id}`);
    for (const text of ['one', 'two']) await turn(desk, call.id, { kind: 'note', text });
    await get(desk.as('lead-nurse'), `/api/calls/${call.id}`);
    expect(acts(await trail(call.id))).toEqual([
      'get /api/calls/:id',
      'post /api/calls/:id/turns note',
      'post /api/calls/:id/turns note',
      'get /api/calls/:id',
      'post /api/calls',
    ]);
  });

  test('is itself looked at by name', async () => {
    await trail();
    expect(acts(await trail('precious-adeyinka'))).toContain('get /api/audit');
  });

  test('is kept by every route but those that show nothing of a patient', () => {
    const without = ROUTES.filter(({ noPatient }) => noPatient === true).map(({ path }) => path);
    // Opening hours, numbers and the rota of staff.
    expect(without).toEqual(['/api/practice']);
  });
});
