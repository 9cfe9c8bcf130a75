/** Writes what came of a ring or a text, once for each word about it; what has ended already stays as it is. */
import type { Fault } from '../basics/fault.ts';
import { ok, type Result } from '../basics/result.ts';
import { attemptToken, RUNG_NAMES, type Came } from '../call/attempt.ts';
import type { StoredMessage } from '../call/outbox.ts';
import { turn } from '../call/turn.ts';
import type { ReachDeps } from './reach-deps.ts';
import { textOf, type Params } from './read-reply.ts';

export interface Happened {
  readonly message: StoredMessage;
  readonly came: Came;
  readonly params: Params;
}

/** An acceptance takes the waiting page away in its own turn, and is written all the same. */
function hasEnded({ state }: StoredMessage, came: Came): boolean {
  return state === 'delivered' || state === 'failed' || (state === 'withdrawn' && came !== 'accepted');
}

/** `To` of a signed request is who was rung. */
export async function cameOf(
  { line }: ReachDeps,
  { message, came, params }: Happened,
): Promise<Result<unknown, Fault>> {
  if (hasEnded(message, came)) return ok(null);
  const now = line.turn.clock.now();
  const telephone = textOf(params['To']);
  const staff = line.practice.staff.find((one) => one.telephone === telephone)?.id ?? message.to;
  const named = line.ladder(now).find((one) => one.staff === staff)?.rung;
  const rung = RUNG_NAMES.find((name) => name === named) ?? 'first';
  const isPage = message.kind === 'page';
  const done = await turn(line.turn, {
    call: message.call,
    token: attemptToken(message, came),
    by: 'line',
    input: {
      kind: 'attempt',
      what: message.kind,
      message: message.id,
      rung: isPage ? rung : null,
      staff: isPage ? staff : null,
      came,
      providerId: textOf(params['CallSid']) || textOf(params['MessageSid']) || null,
    },
  });
  return done.ok || done.fault.code === 'not-found' ? ok(null) : done;
}
