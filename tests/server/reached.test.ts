/** The outbox and what becomes of promises, over the running desk with its own worker. */
import { afterAll, beforeAll, expect, test } from 'vitest';
import { newId } from '../../src/basics/ids.ts';
import { outboxAnswerSchema, type OutboxAnswer } from '../../src/desk/contract/outbox.ts';
import { promiseDoneAnswerSchema, promisesAnswerSchema } from '../../src/desk/contract/promises.ts';
import { aDesk, type Desk } from '../support/a-desk.ts';
import { answerUntil, faultOf, getAs, post, startCall, turn } from '../support/desk-api.ts';

let desk: Desk;
beforeAll(async () => {
  desk = await aDesk('small');
});
afterAll(() => desk.remove());

const outbox = async (): Promise<OutboxAnswer> => getAs(desk, '/api/outbox', outboxAnswerSchema);

/** Asked again and again until the worker has been there; every question is a round trip of its own. */
async function outboxUntil(holds: (answer: OutboxAnswer) => boolean): Promise<OutboxAnswer> {
  for (let n = 0; n < 2_000; n += 1) {
    const answer = await outbox();
    if (holds(answer)) return answer;
  }
  throw new Error('It never came to that');
}

test('an urgent call is paged at once in the same process: shown, since nothing leaves a demonstration', async () => {
  const call = await startCall(desk);
  const findings = { breathless: 'yes' };
  await turn(desk, call.id, { kind: 'volunteer', findings, words: null, correction: null });
  const { messages } = await outboxUntil((answer) =>
    answer.messages.some(({ call: id, state }) => id === call.id && state === 'shown'),
  );
  const own = messages.filter((one) => one.call === call.id);
  // Tuesday's first on call in the demo's rota.
  expect(own.find(({ state }) => state === 'shown')).toMatchObject({
    kind: 'page',
    to: 'Dr Kwabena Osei-Lund',
    overdue: false,
  });
  expect(own.filter(({ kind, state }) => kind === 'page' && state === 'queued').length).toBeGreaterThan(0);
});

test('a review is tried, booked, and then no longer open; an escalation is ended by a clinician only', async () => {
  const call = await answerUntil(desk, await startCall(desk), {});
  const open = await getAs(desk, '/api/promises', promisesAnswerSchema);
  const review = open.promises.find((one) => one.call === call.id && one.kind === 'review');
  const escalation = open.promises.find(({ kind }) => kind === 'escalation');
  const path = `/api/promises/${review?.id ?? ''}/done`;
  const body = (result: string) => ({ token: newId(), call: call.id, result, text: 'Friday at nine.' });
  const tried = await post(desk, path, body('not-reached'));
  expect(promiseDoneAnswerSchema.parse(tried.body).promise.state).toBe('open');
  const booked = await post(desk, path, body('booked'));
  expect(promiseDoneAnswerSchema.parse(booked.body).promise.state).toBe('done');
  expect(faultOf(await post(desk, path, body('booked')))).toEqual({ status: 409, code: 'not-now' });
  const wrong = { ...body('booked'), call: escalation?.call ?? '' };
  expect(faultOf(await post(desk, path, wrong)).code).toBe('not-found');
  const ended = await post(desk, `/api/promises/${escalation?.id ?? ''}/done`, wrong);
  expect(faultOf(ended)).toEqual({ status: 403, code: 'needs-clinician' });
});
