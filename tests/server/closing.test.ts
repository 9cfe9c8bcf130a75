/** From outcome to closed over the running desk: told, accepted, raised, lowered, closed, and the record of it. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { callsAnswerSchema } from '../../src/desk/contract/calls.ts';
import { promisesAnswerSchema } from '../../src/desk/contract/promises.ts';
import { recordAnswerSchema } from '../../src/desk/contract/record.ts';
import type { CallView } from '../../src/desk/contract/call-view.ts';
import type { DeskInput } from '../../src/desk/contract/turns.ts';
import { aDesk, type Desk } from '../support/a-desk.ts';
import { answerUntil, faultOf, get, getAs, sendTurn, startCall, turn } from '../support/desk-api.ts';

let desk: Desk;
beforeAll(async () => {
  desk = await aDesk('small');
});
afterAll(() => desk.remove());

/** Dr Kwabena Osei-Lund, signed in. */
const clinician = (): Desk => desk.as('on-call-clinician');

const HOUR = { outcome: 'urgent-escalation', within: '1-hour', emergency: false } as const;
const TODAY = { outcome: 'arrange-review', within: 'same-day', emergency: false } as const;

async function calmCall(): Promise<CallView> {
  return answerUntil(desk, await startCall(desk), {});
}

async function urgentCall(): Promise<CallView> {
  const call = await startCall(desk);
  const findings = { breathless: 'yes' };
  const heard = await turn(desk, call.id, { kind: 'volunteer', findings, words: null, correction: null });
  return answerUntil(desk, heard.view, {});
}

describe('an ordinary call', () => {
  test('closes once it was told and understood, and stays readable', async () => {
    const call = await calmCall();
    expect(call.closingNeeds).toEqual(['told', 'understood']);
    const early = await sendTurn(desk, call.id, { kind: 'close', understood: true, agreed: '' });
    expect(faultOf(early)).toEqual({ status: 409, code: 'not-now' });
    const told = await turn(desk, call.id, { kind: 'tell' });
    expect(told.view.told).toEqual(call.result?.outcome);
    const closed = await turn(desk, call.id, {
      kind: 'close',
      understood: true,
      agreed: 'A visit on Friday.',
    });
    expect(closed.view.at).toBe('closed');

    const calls = await getAs(desk, '/api/calls', callsAnswerSchema);
    expect(calls.open.map(({ id }) => id)).not.toContain(call.id);
    expect(calls.recent.map(({ id, patient }) => [id, patient])).toContainEqual([
      call.id,
      'Marisol Quennell',
    ]);

    const record = await getAs(desk, `/api/calls/${call.id}/record`, recordAnswerSchema);
    const text = record.sections.flatMap(({ lines }) => lines.map((line) => line.text)).join('\n');
    expect(text).toContain('A visit on Friday.');
    for (const { asked } of call.answered.filter(({ how }) => how === 'asked')) expect(text).toContain(asked);
    for (const words of call.result?.tell ?? []) expect(text).toContain(words);
  });

  test('takes nothing more once it is closed', async () => {
    const call = await calmCall();
    await turn(desk, call.id, { kind: 'tell' });
    await turn(desk, call.id, { kind: 'close', understood: true, agreed: '' });
    const late = await sendTurn(desk, call.id, {
      kind: 'volunteer',
      findings: { breathless: 'yes' },
      words: null,
      correction: null,
    });
    expect(faultOf(late)).toEqual({ status: 409, code: 'not-now' });
  });
});

describe('an urgent call', () => {
  test('closes only with the name of the clinician who accepted', async () => {
    const call = await urgentCall();
    await turn(desk, call.id, { kind: 'tell' });
    const without = await sendTurn(desk, call.id, { kind: 'close', understood: true, agreed: '' });
    expect(faultOf(without)).toEqual({ status: 409, code: 'not-now' });
    const nameless = await sendTurn(desk, call.id, { kind: 'accept', clinician: '  ' });
    expect(faultOf(nameless)).toEqual({ status: 400, code: 'bad-request' });
    const accepted = await turn(desk, call.id, { kind: 'accept', clinician: 'Dr Ines Carrow' });
    expect(accepted.view.accepted?.clinician).toBe('Dr Ines Carrow');
    const closed = await turn(desk, call.id, { kind: 'close', understood: false, agreed: '' });
    expect(closed.view.at).toBe('closed');
  });

  test('is an open promise with an owner until somebody accepts, and overdue when the time is over', async () => {
    const call = await urgentCall();
    const open = await getAs(desk, '/api/promises', promisesAnswerSchema);
    const mine = open.promises.filter((one) => one.call === call.id && one.kind === 'escalation');
    expect(mine.map(({ owner, overdue, patient }) => [owner, overdue, patient])).toEqual([
      ['Dr Kwabena Osei-Lund', false, 'Marisol Quennell'],
    ]);
    desk.clock.moveBy(60_000);
    const later = await getAs(desk, '/api/promises', promisesAnswerSchema);
    expect(later.promises.find(({ id }) => id === mine[0]?.id)?.overdue).toBe(true);
    // A nurse's word that somebody accepted leaves it open; the clinician's own, signed in, ends it.
    const told = await turn(desk, call.id, { kind: 'accept', clinician: 'Dr Kwabena Osei-Lund' });
    expect(told.view.accepted?.confirmed).toBe(false);
    const still = await getAs(desk, '/api/promises', promisesAnswerSchema);
    expect(still.promises.map(({ id }) => id)).toContain(mine[0]?.id);
    const own = await turn(clinician(), call.id, { kind: 'accept', clinician: 'Somebody Else' });
    expect(own.view.accepted).toMatchObject({ clinician: 'Dr Kwabena Osei-Lund', confirmed: true });
    const after = await getAs(desk, '/api/promises', promisesAnswerSchema);
    expect(after.promises.map(({ id }) => id)).not.toContain(mine[0]?.id);
  });

  test('that was closed on a reported acceptance stays an open escalation until the clinician confirms', async () => {
    const call = await urgentCall();
    await turn(desk, call.id, { kind: 'tell' });
    await turn(desk, call.id, { kind: 'accept', clinician: 'Dr Kwabena Osei-Lund' });
    const closed = await turn(desk, call.id, { kind: 'close', understood: true, agreed: '' });
    const escalation = (view: CallView) => view.promises.find(({ kind }) => kind === 'escalation')?.state;
    expect([closed.view.at, escalation(closed.view)]).toEqual(['closed', 'open']);
    // Nobody else changes a closed call.
    const again = await sendTurn(desk, call.id, { kind: 'accept', clinician: 'Dr Ines Carrow' });
    expect(faultOf(again)).toEqual({ status: 409, code: 'not-now' });
    const confirmed = await turn(clinician(), call.id, { kind: 'accept', clinician: 'x' });
    expect([confirmed.view.at, escalation(confirmed.view)]).toEqual(['closed', 'done']);
  });

  test('hands over in the published order: situation, background, assessment, recommendation', async () => {
    const call = await urgentCall();
    expect(Object.keys(call.result?.handover ?? {})).toEqual([
      'situation',
      'background',
      'assessment',
      'recommendation',
    ]);
    expect(call.result?.handover.situation).toMatch(/^Emergency/);
  });
});

describe('the outcome', () => {
  test('is raised by a nurse with a reason, and not without one', async () => {
    const call = await calmCall();
    const silent = await sendTurn(desk, call.id, { kind: 'raise', to: HOUR, why: '' });
    expect(faultOf(silent)).toEqual({ status: 400, code: 'bad-request' });
    const raised = await turn(desk, call.id, { kind: 'raise', to: HOUR, why: 'She sounds ill.' });
    expect(raised.view.result?.outcome).toEqual(HOUR);
  });

  test('that a nurse wants lower stands until a named clinician confirms', async () => {
    const call = await calmCall();
    await turn(desk, call.id, { kind: 'raise', to: HOUR, why: 'She sounds ill.' });
    const asked = await turn(desk, call.id, { kind: 'ask-lowering', to: TODAY, why: 'Rang back, well.' });
    expect(asked.view.result?.outcome).toEqual(HOUR);
    expect(asked.view.closingNeeds).toContain('lowering-confirmed');
    const lower: DeskInput = {
      kind: 'lower',
      to: TODAY,
      clinician: 'Dr Ines Carrow',
      spokeToPatient: true,
      why: 'Spoke, well.',
    };
    const byNurse = await sendTurn(desk, call.id, lower);
    expect(faultOf(byNurse)).toEqual({ status: 403, code: 'needs-clinician' });
    const confirmed = await turn(clinician(), call.id, lower);
    expect(confirmed.view.result?.outcome).toEqual(TODAY);
    // Whoever is signed in, whatever was sent.
    expect(confirmed.view.lowered?.clinician).toBe('Dr Kwabena Osei-Lund');
  });

  test('of an emergency is not lowered by a clinician who has not spoken to the patient', async () => {
    const call = await urgentCall();
    const lower = {
      kind: 'lower',
      to: TODAY,
      clinician: 'Dr Ines Carrow',
      spokeToPatient: false,
      why: 'Busy.',
    };
    expect(faultOf(await sendTurn(clinician(), call.id, lower))).toEqual({
      status: 403,
      code: 'needs-clinician',
    });
  });

  test.each([
    { outcome: 'advise', within: 'now', emergency: false },
    { outcome: 'arrange-review', within: 'same-day', emergency: true },
  ])('that no rung of the ladder is, is refused: %o', async (to) => {
    const call = await calmCall();
    expect((await sendTurn(desk, call.id, { kind: 'raise', to, why: 'x' })).status).toBe(400);
  });
});

test('a call that breaks off before its danger screen is done is rung back within five minutes', async () => {
  const call = await startCall(desk);
  const question = call.question?.id ?? '';
  await turn(desk, call.id, { kind: 'answer', question, value: 'no', correction: null });
  const { view } = await turn(desk, call.id, { kind: 'cut-off', how: 'hung-up' });
  const back = view.promises.find(({ kind }) => kind === 'call-back');
  expect((back?.due?.at ?? 0) - desk.clock.now()).toBe(5 * 60_000);
});

test.each(['/api/calls/x/record', '/api/calls/x', '/api/calls/x/findings'])(
  '%s is not found',
  async (path) => {
    expect(faultOf(await get(desk, path))).toEqual({ status: 404, code: 'not-found' });
  },
);
