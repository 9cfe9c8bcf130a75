/** What came of ringing somebody: bridged ends it, anything else goes to the next rung while there is time. */
import type { Fault } from '../basics/fault.ts';
import type { Result } from '../basics/result.ts';
import { WITHIN_THE_HOUR } from '../clinical/outcome.ts';
import { RUNG_NAMES, type Came } from '../call/attempt.ts';
import type { TurnInput } from '../call/input.ts';
import type { Saying } from '../call/turn.ts';
import { nextAddress, type Address } from './address.ts';
import { tokenOf } from './came.ts';
import { connect, DESK_RUNG, whomToRing, type Whom } from './connect.ts';
import type { LineDeps } from './deps.ts';
import { end } from './end.ts';
import { textOf, type Params } from './read-reply.ts';
import type { Spoken } from './spoken.ts';
import { takeTurn } from './take-turn.ts';

/** Only `DialBridged` says that two people spoke: "completed" is also a machine that picked up. */
export async function dialled(
  deps: LineDeps,
  address: Address,
  params: Params,
): Promise<Result<Spoken, Fault>> {
  const bridged = textOf(params['DialBridged']) === 'true';
  const whom = whomToRing(deps, address.rung, deps.turn.clock.now());
  const fromDesk = address.rung === DESK_RUNG;
  return takeTurn(deps, {
    call: address.call,
    token: tokenOf(address),
    input: attempt(whom, { bridged, params }),
    raises: () => (fromDesk && !bridged ? { to: WITHIN_THE_HOUR, why: 'the desk did not pick up' } : null),
    says: (saying) => (bridged ? end(deps, []) : nextRung(deps, saying, address)),
  });
}

function nextRung(deps: LineDeps, saying: Saying, address: Address): Spoken {
  const rung = address.rung === DESK_RUNG ? 0 : address.rung + 1;
  const to = nextAddress(address, { rung, until: address.until });
  return connect(deps, { saying, to, say: [] });
}

interface Ended {
  readonly bridged: boolean;
  readonly params: Params;
}

/** Who was rung and what came of it. The desk is no rung of the rota. */
function attempt(whom: Whom | null, { bridged, params }: Ended): TurnInput {
  const rung = RUNG_NAMES.find((name) => name === whom?.rung) ?? null;
  return {
    kind: 'attempt',
    what: 'leg',
    message: null,
    rung,
    staff: whom?.staff ?? null,
    came: bridged ? 'accepted' : cameOf(textOf(params['DialCallStatus'])),
    providerId: textOf(params['DialCallSid']).slice(0, 100) || null,
  };
}

function cameOf(status: string): Came {
  switch (status) {
    case 'busy':
      return 'busy';
    case 'no-answer':
      return 'no-answer';
    // Somebody or something answered, and no key was pressed.
    case 'completed':
    case 'answered':
      return 'not-accepted';
    default:
      return 'failed';
  }
}
