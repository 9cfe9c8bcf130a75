/** Calls over the running desk: starting, answering, coming back, and what is refused. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { newId } from '../../src/basics/ids.ts';
import { turnAnswerSchema } from '../../src/desk/contract/call-view.ts';
import { callsAnswerSchema } from '../../src/desk/contract/calls.ts';
import { findingsAnswerSchema } from '../../src/desk/contract/findings.ts';
import { aDesk, DESK_NOW, type Desk } from '../support/a-desk.ts';
import {
  answerUntil,
  faultOf,
  getAs,
  post,
  QUENNELL,
  sendTurn,
  startBody,
  startCall,
  turn,
  usualAnswer,
  view,
} from '../support/desk-api.ts';

let desk: Desk;
beforeAll(async () => {
  desk = await aDesk('small');
});
afterAll(() => desk.remove());

const NOBODY = '01980000-0000-7000-8000-00000000ffff';
/** People of the demo about whom nothing else here rings. */
const LIFT = {
  patient: '01980000-0000-7000-8000-000000000112',
  operation: '01980000-0000-7000-8000-000000000212',
};
const LONG_AGO = {
  patient: '01980000-0000-7000-8000-000000000104',
  operation: '01980000-0000-7000-8000-000000000204',
};

describe('a call starts', () => {
  test('with the operation that was chosen, on its script, with the danger screen first', async () => {
    const call = await startCall(desk);
    expect(call.operation?.id).toBe(QUENNELL.operation);
    expect(call.script.id).toBe('breast-lift+tummy-tuck');
    expect(call.question?.tier).toBe('screen');
    expect(call.result).toBeNull();
  });

  test('with nobody chosen, on the general script', async () => {
    const call = await startCall(desk, { chosen: null });
    expect(call.patient).toBeNull();
    expect(call.script.id).toBe('general');
    expect(call.question?.tier).toBe('screen');
  });

  test('with the number that the telephone shows, which is not asked again', async () => {
    const call = await startCall(desk, { callerNumber: '07700 900555' });
    expect(call.callBackNumber).toBe('+447700900555');
    const end = await answerUntil(desk, call, {});
    expect(end.answered.map(({ question }) => question)).not.toContain(end.callBackQuestion);
  });

  test('once, however often the same start is sent', async () => {
    // About nobody: a third call about one patient is urgent, and what is paged about it moves the call on.
    const body = startBody({ chosen: null });
    const first = turnAnswerSchema.parse((await post(desk, '/api/calls', body)).body);
    const second = turnAnswerSchema.parse((await post(desk, '/api/calls', body)).body);
    expect(second.repeated).toBe(true);
    expect(second.reply).toEqual(first.reply);
    expect(second.view.seq).toBe(first.view.seq);
  });

  test.each([
    ['a number that cannot be rung', { callerNumber: '12' }, 400, 'bad-request'],
    ['an id that is no UUID of version 7', { call: 'abc' }, 400, 'bad-request'],
    ['a token that is too short', { token: 'a' }, 400, 'bad-request'],
    ['an unknown patient', { chosen: { ...QUENNELL, patient: NOBODY } }, 404, 'not-found'],
    ['an operation of nobody', { chosen: { ...QUENNELL, operation: NOBODY } }, 404, 'not-found'],
    ['a key that nothing reads', { more: 1 }, 400, 'bad-request'],
    ['another direction', { direction: 'sideways' }, 400, 'bad-request'],
  ])('not with %s, and nothing is half begun', async (_what, changes, status, code) => {
    const id = newId();
    const body = startBody({ call: id, ...changes });
    expect(faultOf(await post(desk, '/api/calls', body))).toEqual({ status, code });
    const calls = await getAs(desk, '/api/calls', callsAnswerSchema);
    expect(calls.open.map((call) => call.id)).not.toContain(id);
  });
});

describe('an answer', () => {
  test('is kept once: the same token gives the same reply and changes nothing', async () => {
    const call = await startCall(desk);
    const input = { kind: 'answer', question: call.question?.id, value: 'no', correction: null };
    const token = newId();
    const first = turnAnswerSchema.parse((await sendTurn(desk, call.id, input, token)).body);
    const again = turnAnswerSchema.parse((await sendTurn(desk, call.id, input, token)).body);
    // First come wins when one token brings two different answers.
    const other = turnAnswerSchema.parse(
      (await sendTurn(desk, call.id, { ...input, value: 'yes' }, token)).body,
    );
    expect([again.repeated, other.repeated]).toEqual([true, true]);
    expect(again.reply).toEqual(first.reply);
    expect(other.reply).toEqual(first.reply);
    expect((await view(desk, call.id)).seq).toBe(first.view.seq);
  });

  // The vocabulary's limits of body temperature: 30 to 44 degrees.
  test('of 380 degrees is asked again', async () => {
    const call = await answerUntil(desk, await startCall(desk), { until: 'temperature' });
    expect(call.question?.id).toBe('temperature');
    const refused = await sendTurn(desk, call.id, {
      kind: 'answer',
      question: 'temperature',
      value: 380,
      correction: null,
    });
    expect(faultOf(refused)).toEqual({ status: 422, code: 'out-of-range' });
    const after = await view(desk, call.id);
    expect(after.question?.id).toBe('temperature');
    expect(after.seq).toBe(call.seq);
  });

  test.each([
    ['to a question that the script does not have', 'answer', { question: 'nothing-such', value: 'no' }, 404],
    ['that the question does not take', 'answer', { value: 'perhaps' }, 400],
    ['without a value', 'answer', { value: undefined }, 400],
    ['that is nothing', 'answer', { value: null }, 400],
    ['longer than can be read out', 'fact', { text: 'x'.repeat(4001), correction: undefined }, 400],
  ])('%s is refused and changes nothing', async (_what, kind, changes, status) => {
    const call = await startCall(desk, { chosen: null });
    const input = { kind, question: call.question?.id, correction: null, ...changes };
    expect((await sendTurn(desk, call.id, input)).status).toBe(status);
    expect((await view(desk, call.id)).seq).toBe(call.seq);
  });

  test.each(['start', 'operation', 'erase', ''])('cannot be an input of kind "%s"', async (kind) => {
    const call = await startCall(desk);
    expect(faultOf(await sendTurn(desk, call.id, { kind }))).toEqual({ status: 400, code: 'bad-request' });
  });

  test.each([NOBODY, 'x', '..%2f..', '%00'])('to the unknown call %s is not found', async (id) => {
    expect((await sendTurn(desk, id, { kind: 'back' })).status).toBe(404);
  });

  test('before anything was asked cannot be gone back to', async () => {
    const call = await startCall(desk);
    expect(faultOf(await sendTurn(desk, call.id, { kind: 'back' }))).toEqual({
      status: 409,
      code: 'not-now',
    });
  });
});

describe('a call', () => {
  test('comes back to the same question after the server was started again', async () => {
    const before = await answerUntil(desk, await startCall(desk), { until: 'temperature' });
    desk = await desk.again();
    expect(await view(desk, before.id)).toEqual(before);
    const end = await answerUntil(desk, before, {});
    expect(end.at).toBe('outcome');
  });

  test('says what is still to be asked, and asks exactly that when nothing is wrong', async () => {
    const call = await startCall(desk, { chosen: LIFT });
    const foretold = [call.question?.words, ...call.stillToAsk];
    const asked: string[] = [];
    let now = call;
    while (now.question !== null) {
      asked.push(now.question.words);
      now = (await turn(desk, call.id, usualAnswer(now.question, {}))).view;
    }
    expect(asked).toEqual(foretold);
  });

  test('shows no points before its end', async () => {
    const call = await startCall(desk, { chosen: LIFT });
    expect(call.result).toBeNull();
    const end = await answerUntil(desk, call, {});
    expect(end.result?.concerns).not.toBeNull();
  });

  test('shows nothing that earlier calls make of it before its own danger screen', async () => {
    const chosen = LONG_AGO;
    await answerUntil(desk, await startCall(desk, { chosen }), { say: { swelling: 'one-sided' } });
    await answerUntil(desk, await startCall(desk, { chosen }), { say: { swelling: 'one-sided' } });
    const third = await startCall(desk, { chosen });
    expect(third.earlierCalls).toBeNull();
    expect(third.urgent).toBe(false);
    expect(third.result).toBeNull();
    // Third contact about the same problem within 72 hours: a clinician within the hour (practice rule).
    const end = await answerUntil(desk, third, { say: { swelling: 'one-sided' } });
    expect(end.earlierCalls).toHaveLength(2);
    expect(end.result?.outcome).toMatchObject({ outcome: 'urgent-escalation', within: '1-hour' });
  });

  test('lists what a caller can volunteer, and counts a danger at once', async () => {
    const call = await startCall(desk);
    const { findings } = await getAs(desk, `/api/calls/${call.id}/findings`, findingsAnswerSchema);
    expect(findings.map(({ id }) => id)).toContain('breathless');
    const done = await turn(desk, call.id, {
      kind: 'volunteer',
      findings: { breathless: 'yes' },
      words: 'I cannot get my breath',
      correction: null,
    });
    expect(done.view.urgent).toBe(true);
    expect(done.view.result?.outcome).toEqual({
      outcome: 'urgent-escalation',
      within: 'now',
      emergency: true,
    });
    expect(done.view.result?.concerns).toBeNull();
    expect(done.view.result?.ringNow[0]?.name).toBe('Dr Kwabena Osei-Lund');
    expect(done.view.promises.map(({ kind, owner }) => [kind, owner])).toContainEqual([
      'escalation',
      'Dr Kwabena Osei-Lund',
    ]);
  });

  test('keeps hostile words as words', async () => {
    const text = '<img src=x onerror=alert(1)> \u0000\u202e {{practice}}';
    const call = await startCall(desk);
    const done = await turn(desk, call.id, { kind: 'note', text });
    expect(done.view.notes.map((note) => note.text)).toEqual([text]);
  });

  test('says the time of the practice, not of the machine', async () => {
    // British Summer Time began on 29 March 2026 at 01:00 UTC.
    desk.clock.moveTo(Date.parse('2026-03-30T10:00:00Z'));
    const call = await startCall(desk);
    desk.clock.moveTo(DESK_NOW);
    expect(call.started.shown).toBe('today 11:00');
  });
});
