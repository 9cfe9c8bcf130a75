/** One turn of a spoken call: the reply is read, goes through the one door, and what follows is said. */
import { fault, type Fault } from '../basics/fault.ts';
import type { CallId } from '../basics/ids.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import type { TurnInput } from '../call/input.ts';
import type { HeardReply } from '../call/heard.ts';
import type { Raise } from '../call/tell-when-reached.ts';
import { turn, type Saying } from '../call/turn.ts';
import type { LineDeps } from './deps.ts';
import { readSpoken, spokenJson, type Spoken } from './spoken.ts';

export interface Taking {
  readonly call: CallId;
  readonly token: string;
  readonly input: TurnInput;
  readonly says: (saying: Saying) => Spoken;
  readonly raises?: (heard: HeardReply | null) => Raise | null;
}

/** The turn and what is said after it; a token that was answered before says the same again. */
export async function takeTurn(deps: LineDeps, taking: Taking): Promise<Result<Spoken, Fault>> {
  const { call, token, input, says, raises } = taking;
  const done = await turn(deps.turn, {
    call,
    token,
    by: 'line',
    input,
    speaks: {
      mayAdvise: deps.mayAdvise,
      why: deps.words.mayNotAdvise,
      raises: raises ?? (() => null),
      says: (saying) => spokenJson(says(saying)),
    },
  });
  // The call has moved on meanwhile, as when a nurse has taken it over: the reply is kept, and the call goes on from there.
  if (!done.ok && done.fault.code === 'not-now' && input.kind !== 'heard') {
    return takeTurn(deps, { ...taking, input: KEPT });
  }
  if (!done.ok) return done;
  const spoken = readSpoken(done.value.reply);
  return spoken === null ? failed(NOT_SPOKEN) : ok(spoken);
}

const KEPT: TurnInput = {
  kind: 'heard',
  question: null,
  text: '',
  confidence: 1,
  how: 'keys',
  aside: 'other',
  confirms: null,
  correction: null,
};
const NOT_SPOKEN = fault('not-now', 'This turn was taken without anything to say.');

/** A turn of which nothing is heard: what belongs to the next one, written before it. */
export async function takeSilently(
  deps: LineDeps,
  taking: Omit<Taking, 'says'>,
): Promise<Result<null, Fault>> {
  const { call, token, input } = taking;
  const done = await turn(deps.turn, { call, token, by: 'line', input });
  return done.ok ? ok(null) : done;
}

/** What a token was answered with before, or null. */
export async function saidBefore(
  deps: LineDeps,
  call: CallId,
  token: string,
): Promise<Result<Spoken | null, Fault>> {
  const reply = await deps.turn.store.replyTo(call, token);
  if (!reply.ok) return failed(fault('store-down', 'The record cannot be read now.'));
  return ok(reply.value === null ? null : readSpoken(reply.value));
}
