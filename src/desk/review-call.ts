/** POST /api/log/:id/reviewed: the lead nurse has re-read a call and says what there is to say. */
import { fault } from '../basics/fault.ts';
import { failed } from '../basics/result.ts';
import { reviewSchema } from './contract/log.ts';
import { readBody, type Endpoint } from './endpoint.ts';
import { getLogCall } from './get-log-call.ts';
import { callIdOf } from './read-call.ts';

export const reviewCall: Endpoint = async (deps, request) => {
  const body = readBody(reviewSchema, request.body);
  if (!body.ok) return body;
  const { id, comment } = body.value;
  const at = deps.turn.clock.now();
  const added = await deps.callAudits.add({
    id,
    call: callIdOf(request.id),
    at,
    who: request.who.id,
    comment,
  });
  if (added.ok) return getLogCall(deps, request);
  return failed(
    added.fault === 'not-found'
      ? fault('not-found', 'There is no such call that can still be read.')
      : fault('store-down', 'The review cannot be written now; nothing was kept of it.'),
  );
};
