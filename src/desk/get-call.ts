/** GET /api/calls/:id: where a call stands, so that a page that was closed comes back to the same question. */
import type { Endpoint } from './endpoint.ts';
import { readCall } from './read-call.ts';

export const getCall: Endpoint = (deps, { who, id }) => readCall(deps, who, id);
