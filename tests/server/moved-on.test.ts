/** Two nurses in one call: what the second sends about a question that is gone is not counted, and nothing is lost. */
import { once } from 'node:events';
import { get as httpGet, type IncomingMessage } from 'node:http';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { newId } from '../../src/basics/ids.ts';
import { turnAnswerSchema } from '../../src/desk/contract/call-view.ts';
import { aDesk, type Desk } from '../support/a-desk.ts';
import { faultOf, post, startCall, turn, view } from '../support/desk-api.ts';

let desk: Desk;
beforeAll(async () => {
  desk = await aDesk('small');
});
afterAll(() => desk.remove());

describe('an answer to a question that somebody else has answered', () => {
  test('is refused as stale and changes nothing; the same answer before it is kept', async () => {
    const call = await startCall(desk);
    const question = call.question?.id ?? '';
    const body = (value: string) => ({
      token: newId(),
      input: { kind: 'answer', question, value, correction: null },
      seen: { question, outcome: null },
    });
    const first = await post(desk, `/api/calls/${call.id}/turns`, body('no'));
    const moved = turnAnswerSchema.parse(first.body).view;
    const second = await post(desk, `/api/calls/${call.id}/turns`, body('yes'));
    expect(faultOf(second)).toEqual({ status: 409, code: 'stale' });
    expect((await view(desk, call.id)).seq).toBe(moved.seq);
  });

  test('is answered with its own reply when it is the same one again', async () => {
    const call = await startCall(desk);
    const question = call.question?.id ?? '';
    const input = { kind: 'answer', question, value: 'no', correction: null };
    const body = { token: newId(), input, seen: { question, outcome: null } };
    const replies = [];
    for (let time = 0; time < 2; time += 1) {
      const response = await post(desk, `/api/calls/${call.id}/turns`, body);
      replies.push(turnAnswerSchema.parse(response.body).reply);
    }
    expect(replies[1]).toEqual(replies[0]);
  });
});

test('an outcome that has risen since it was read is not recorded as told', async () => {
  const call = await startCall(desk);
  const danger = (finding: string) =>
    turn(desk, call.id, {
      kind: 'volunteer',
      findings: { [finding]: 'unsure' },
      words: null,
      correction: null,
    });
  const { view: seen } = await danger('breathless');
  const outcome = { outcome: 'arrange-review', within: 'same-day', emergency: false };
  const told = await post(desk, `/api/calls/${call.id}/turns`, {
    token: newId(),
    input: { kind: 'tell' },
    seen: { question: seen.question?.id ?? null, outcome },
  });
  expect(faultOf(told).code).toBe('stale');
  expect((await view(desk, call.id)).told).toBeNull();
});

test('whoever listens hears which call has changed, and nothing else', async () => {
  const call = await startCall(desk);
  const stream = await events(desk);
  const next = once(stream, 'data');
  await turn(desk, call.id, { kind: 'note', text: 'a word that stays in the call' });
  const [chunk] = (await next) as readonly Buffer[];
  expect(String(chunk)).toBe(`event: changed\ndata: "${call.id}"\n\n`);
  stream.destroy();
});

/** The stream after its first line. */
async function events({ address, cookie }: Desk): Promise<IncomingMessage> {
  const headers = { Accept: 'text/event-stream', Cookie: await cookie() };
  const request = httpGet(`${address}/api/live`, { headers });
  const [stream] = (await once(request, 'response')) as [IncomingMessage];
  await once(stream, 'data');
  return stream;
}
