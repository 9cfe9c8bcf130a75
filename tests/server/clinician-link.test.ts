/** A link and a PIN open one escalation on one telephone: handover, acceptance, a lowering that was asked for. */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { CallView } from '../../src/desk/contract/call-view.ts';
import { aBrowser } from '../support/a-browser.ts';
import { aDesk, type Desk } from '../support/a-desk.ts';
import { answerUntil, post, startCall, turn, view } from '../support/desk-api.ts';

let desk: Desk;
beforeAll(async () => {
  desk = await aDesk('small');
});
afterAll(() => desk.remove());

async function urgentCall(): Promise<CallView> {
  const call = await startCall(desk);
  const findings = { breathless: 'yes' };
  const heard = await turn(desk, call.id, { kind: 'volunteer', findings, words: null, correction: null });
  return answerUntil(desk, heard.view, {});
}

async function linkTo(call: string, clinician = 'ines-carrow'): Promise<string> {
  const response = await post(desk, `/api/calls/${call}/clinician-link`, { clinician });
  expect(response.status, response.text).toBe(200);
  return new URL(String(response.body.link)).pathname;
}

describe('a link', () => {
  test('shows nothing before the PIN, then the handover in that browser alone', async () => {
    const call = await urgentCall();
    const path = await linkTo(call.id);
    const telephone = aBrowser(desk);
    const closed = await telephone.get(path);
    expect(closed.status).toBe(200);
    expect(closed.text).not.toMatch(/Quennell|breath/i);
    expect((await telephone.send(`${path}/accept`)).status).toBe(410);
    expect((await telephone.send(path, { pin: desk.pin })).status).toBe(303);
    const open = await telephone.get(path);
    expect(open.text).toContain(call.result?.handover.situation.slice(0, 20));
    const stranger = aBrowser(desk);
    expect((await stranger.get(path)).status).toBe(410);
    expect((await stranger.send(path, { pin: desk.pin })).status).toBe(410);
    // It opens one escalation and nothing else.
    expect((await telephone.get('/api/calls')).status).toBe(401);
  });

  test('lets the clinician accept in person, once', async () => {
    const call = await urgentCall();
    await turn(desk, call.id, { kind: 'accept', clinician: 'Dr Ines Carrow' });
    const path = await linkTo(call.id);
    const telephone = aBrowser(desk);
    await telephone.send(path, { pin: desk.pin });
    for (const _tap of ['first', 'second']) expect((await telephone.send(`${path}/accept`)).status).toBe(200);
    const after = await view(desk, call.id);
    expect(after.accepted).toMatchObject({ clinician: 'Dr Ines Carrow', confirmed: true });
    expect(after.promises.find(({ kind }) => kind === 'escalation')?.state).toBe('done');
  });

  test('lets the clinician confirm a lowering that was asked for, and no other', async () => {
    const call = await urgentCall();
    const path = await linkTo(call.id);
    const telephone = aBrowser(desk);
    await telephone.send(path, { pin: desk.pin });
    expect((await telephone.send(`${path}/lower`, { why: 'Spoke.' })).status).toBe(409);
    const to = { outcome: 'arrange-review', within: 'same-day', emergency: false } as const;
    await turn(desk, call.id, { kind: 'ask-lowering', to, why: 'Quite well now.' });
    expect((await telephone.send(`${path}/lower`, { why: 'Spoke, well.' })).status).toBe(200);
    expect((await view(desk, call.id)).lowered).toMatchObject({ clinician: 'Dr Ines Carrow', to });
  });

  test('is closed after five wrong PINs, and the next one is not', async () => {
    const call = await urgentCall();
    const path = await linkTo(call.id);
    const telephone = aBrowser(desk);
    const wrong = desk.pin === '135791' ? '246802' : '135791';
    for (let n = 0; n < 5; n += 1) expect((await telephone.send(path, { pin: wrong })).status).toBe(401);
    expect((await telephone.send(path, { pin: desk.pin })).status).toBe(410);
    expect((await telephone.send(await linkTo(call.id), { pin: desk.pin })).status).toBe(303);
  });

  test('is made for an open escalation and an on-call clinician only', async () => {
    const calm = await startCall(desk);
    const path = `/api/calls/${calm.id}/clinician-link`;
    expect((await post(desk, path, { clinician: 'ines-carrow' })).status).toBe(409);
    const urgent = await urgentCall();
    const other = `/api/calls/${urgent.id}/clinician-link`;
    for (const clinician of ['hamish-orde', 'nobody', '']) {
      expect((await post(desk, other, { clinician })).status).toBe(409);
    }
  });
});
