/** POST /api/promises/:id/done: what became of a review or call-back. "Not reached" is a try and leaves it open. */
import { fault } from '../basics/fault.ts';
import { failed, ok } from '../basics/result.ts';
import { turn } from '../call/turn.ts';
import { promiseDoneSchema, type PromiseDoneAnswer } from './contract/promises.ts';
import { readBody, type Endpoint } from './endpoint.ts';
import { callIdOf } from './read-call.ts';
import { promiseShape } from './view/promise-view.ts';

export const keepPromise: Endpoint = async (deps, { who, id, body }) => {
  const request = readBody(promiseDoneSchema, body);
  if (!request.ok) return request;
  const { token, result, text } = request.value;
  const call = callIdOf(request.value.call);
  const before = await deps.turn.store.promisesOf(call);
  if (!before.ok) return failed(DOWN);
  const promise = before.value.find((one) => one.id === id);
  if (promise === undefined) return failed(fault('not-found', 'This call has no such promise.'));
  if (promise.kind === 'escalation') {
    return failed(fault('needs-clinician', 'An escalation ends when a clinician accepts it.'));
  }
  const input = { kind: 'promise-kept', promise: promise.kind, result, text } as const;
  const done = await turn(deps.turn, { call, token, by: `user:${who.id}`, input });
  if (!done.ok) return done;
  const after = await deps.turn.store.promisesOf(call);
  if (!after.ok) return failed(DOWN);
  const kept = after.value.find((one) => one.id === id) ?? promise;
  const answer: PromiseDoneAnswer = { promise: promiseShape(deps, kept) };
  return ok(answer);
};

const DOWN = fault('store-down', 'The promises cannot be read now.');
