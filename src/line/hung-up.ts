/** The call is over for the provider: what was not finished is scored as it stands and rung back. */
import type { Fault } from '../basics/fault.ts';
import { ok, type Result } from '../basics/result.ts';
import { loadCall } from '../call/load-call.ts';
import { standingOf } from '../call/step.ts';
import { turn } from '../call/turn.ts';
import type { LineDeps } from './deps.ts';
import { callOf } from './incoming.ts';
import { textOf, type Params } from './read-reply.ts';

const OVER = new Set(['completed', 'busy', 'failed', 'no-answer', 'canceled']);

/** Late, repeated and unknown callbacks change nothing. What was told to the end needs no ringing back. */
export async function callStatus(deps: LineDeps, params: Params): Promise<Result<null, Fault>> {
  const call = callOf(params);
  if (call === null || !OVER.has(textOf(params['CallStatus']))) return ok(null);
  const loaded = await loadCall(deps.turn, call);
  if (!loaded.ok) return loaded.fault.code === 'not-found' ? ok(null) : loaded;
  const { runner, snapshot } = loaded.value;
  const standing = standingOf(runner, snapshot);
  if (standing.at !== 'asking') return ok(null);
  const input = { kind: 'cut-off', how: 'hung-up' } as const;
  const done = await turn(deps.turn, { call, token: 'hung-up', by: 'line', input });
  return done.ok || done.fault.code === 'not-now' ? ok(null) : done;
}
