/** POST /api/calls/:id/turns: one input into a call; the same token is answered with the same reply. */
import { fault, type Fault } from '../basics/fault.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import { isAllowedOutcome } from '../clinical/outcome.ts';
import { inputSchema, type TurnInput } from '../call/input.ts';
import { loadCall } from '../call/load-call.ts';
import { BrokenTurn, toSafeEnd } from '../call/safe-end.ts';
import { turn, type TurnRequest } from '../call/turn.ts';
import type { SignedIn } from '../people/staff.ts';
import type { TurnAnswer } from './contract/call-view.ts';
import { turnRequestSchema, type DeskInput } from './contract/turns.ts';
import type { DeskDeps } from './deps.ts';
import { readBody, type Endpoint } from './endpoint.ts';
import { frontDeskInput, inputFrom } from './may-input.ts';
import { callIdOf, viewOf } from './read-call.ts';

export const takeTurn: Endpoint = async (deps, { who, id, body }) => {
  const request = readBody(turnRequestSchema, body);
  if (!request.ok) return request;
  const input = turnInput(request.value.input);
  if (!input.ok) return input;
  const may = await mayGoIn(deps, { who, call: id, input: input.value });
  if (!may.ok) return may;
  const { token, seen } = request.value;
  return runTurn(deps, { who, call: id, token, input: may.value, seen: seen ?? null });
};

/** The front desk's part depends on the script that the call is on. */
async function mayGoIn(
  deps: DeskDeps,
  { who, call, input }: Pick<Turning, 'who' | 'call' | 'input'>,
): Promise<Result<TurnInput, Fault>> {
  if (who.role !== 'front-desk') return inputFrom(who, input);
  const loaded = await loadCall(deps.turn, callIdOf(call));
  return loaded.ok ? frontDeskInput(input, loaded.value.runner.compiled.flow) : loaded;
}

interface Turning {
  readonly who: SignedIn;
  readonly call: string;
  readonly token: string;
  readonly input: TurnInput;
  readonly seen: NonNullable<TurnRequest['seen']> | null;
}

/** Runs the turn and answers with the stored reply and the call as it is then. */
export async function runTurn(
  deps: DeskDeps,
  { who, call, token, input, seen }: Turning,
): Promise<Result<TurnAnswer, Fault>> {
  const request = { call: callIdOf(call), token, by: `user:${who.id}`, input, seen } as const;
  const done = await turn(deps.turn, request);
  if (!done.ok) return done;
  const { reply, repeated, loaded } = done.value;
  try {
    const view = await viewOf(deps, who, { call: request.call, loaded });
    return view.ok ? ok({ reply, repeated, view: view.value }) : view;
  } catch (defect) {
    // The turn is kept, and yet the nurse cannot be shown where the call stands.
    throw new BrokenTurn(defect, await toSafeEnd(deps.turn, request));
  }
}

function turnInput(input: DeskInput): Result<TurnInput, Fault> {
  const parsed = inputSchema.safeParse(input);
  if (!parsed.success || !isOnLadder(parsed.data)) {
    return failed(
      fault('bad-request', 'The call does not take what was sent; an input of the contract is accepted.'),
    );
  }
  return ok(parsed.data);
}

/** Outcome, time and emergency can each be right and yet make no outcome together. */
function isOnLadder(input: TurnInput): boolean {
  return 'to' in input ? isAllowedOutcome(input.to) : true;
}
