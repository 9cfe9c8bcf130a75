/** The front desk finds, takes the danger screen and the number, and passes on; it neither advises nor closes. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { callsAnswerSchema } from '../../src/desk/contract/calls.ts';
import { findingsAnswerSchema } from '../../src/desk/contract/findings.ts';
import { findAnswerSchema } from '../../src/desk/contract/people.ts';
import type { CallView } from '../../src/desk/contract/call-view.ts';
import { aDesk, type Desk } from '../support/a-desk.ts';
import { answerUntil, faultOf, get, getAs, sendTurn, startCall, turn, view } from '../support/desk-api.ts';

let desk: Desk;
let front: Desk;
beforeAll(async () => {
  desk = await aDesk('small');
  front = desk.as('front-desk');
});
afterAll(() => desk.remove());

const REFUSED = { status: 403, code: 'not-allowed' };
const URGENT = { outcome: 'urgent-escalation', within: '1-hour', emergency: false } as const;

async function screened(): Promise<CallView> {
  let call = await startCall(front);
  while (call.question?.tier === 'screen') {
    const { id } = call.question;
    call = (await turn(front, call.id, { kind: 'answer', question: id, value: 'no', correction: null })).view;
  }
  return call;
}

test('finds the patient, asks the danger questions and stops where the nurse goes on', async () => {
  const found = await getAs(front, '/api/find?q=Quennell', findAnswerSchema);
  expect(found.found).toHaveLength(1);
  const call = await screened();
  expect(call.at).toBe('asking');
  expect(call.result).toBeNull();
  const nurse = await view(desk, call.id);
  expect(nurse.question?.tier).not.toBe('screen');
});

describe('refused to the front desk', () => {
  test('every answer beyond the danger screen, and whatever decides or ends a call', async () => {
    const call = await screened();
    const nurse = await answerUntil(desk, await view(desk, call.id), { until: 'temperature' });
    const question = nurse.question?.id ?? '';
    const inputs = [
      { kind: 'answer', question, value: 'unsure', correction: null },
      { kind: 'volunteer', findings: { temperature: 39 }, words: null, correction: null },
      { kind: 'tell' },
      { kind: 'raise', to: URGENT, why: 'x' },
      { kind: 'ask-lowering', to: URGENT, why: 'x' },
      { kind: 'lower', to: URGENT, clinician: 'x', spokeToPatient: true, why: 'x' },
      { kind: 'accept', clinician: 'Dr Ines Carrow' },
      { kind: 'close', understood: true, agreed: '' },
    ];
    for (const input of inputs) expect(faultOf(await sendTurn(front, call.id, input))).toEqual(REFUSED);
    expect((await view(desk, call.id)).seq).toBe(nurse.seq);
  });

  test('the record', async () => {
    const call = await startCall(front);
    expect(faultOf(await get(front, `/api/calls/${call.id}/record`))).toEqual(REFUSED);
  });
});

test('a danger that the front desk hears is urgent at once, with what to say and whom to ring', async () => {
  const call = await startCall(front);
  const findings = { breathless: 'yes' };
  const heard = await turn(front, call.id, { kind: 'volunteer', findings, words: null, correction: null });
  expect(heard.view.urgent).toBe(true);
  expect(heard.view.result?.tell.length).toBeGreaterThan(0);
  expect(heard.view.result?.ringNow.length).toBeGreaterThan(0);
  expect(heard.view.result?.handover.assessment).toBe('');
});

test('sees its own notes, and neither those of others nor what a call came to', async () => {
  const call = await startCall(front);
  await turn(front, call.id, { kind: 'note', text: 'Rings from a call box.' });
  await turn(desk, call.id, { kind: 'note', text: 'Tearful about her husband.' });
  expect((await view(front, call.id)).notes.map(({ text }) => text)).toEqual(['Rings from a call box.']);
  expect((await view(desk, call.id)).notes).toHaveLength(2);
  const { findings } = await getAs(front, `/api/calls/${call.id}/findings`, findingsAnswerSchema);
  expect(new Set(findings.map(({ group }) => group))).toEqual(new Set(['immediate-danger']));
  await turn(desk, call.id, { kind: 'raise', to: URGENT, why: 'Sounds ill.' });
  const { open } = await getAs(front, '/api/calls', callsAnswerSchema);
  expect(open.find(({ id }) => id === call.id)?.outcome).toBeNull();
});

test('has a call that it cannot finish rung back', async () => {
  const call = await startCall(front);
  const stopped = await turn(front, call.id, { kind: 'cut-off', how: 'stopped' });
  expect(stopped.view.promises.some(({ kind }) => kind === 'call-back')).toBe(true);
});
