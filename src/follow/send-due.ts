/**
 * Takes one message that is due, sends it, and writes what came of it as an event of its call. Killed anywhere it is
 * late at worst: what was claimed and not ended is claimed again, under the same key at the provider.
 */
import { MINUTE } from '../basics/civil-time.ts';
import type { Fault } from '../basics/fault.ts';
import type { Result } from '../basics/result.ts';
import { isUrgent, WITHIN_THE_HOUR } from '../clinical/outcome.ts';
import { attemptToken } from '../call/attempt.ts';
import { loadCall, type Loaded } from '../call/load-call.ts';
import type { StoredMessage } from '../call/outbox.ts';
import { assessmentOf } from '../call/standing.ts';
import { turn, type TurnDeps } from '../call/turn.ts';
import { isStillDue } from './still-due.ts';
import { sendOut, type Sending, type SendDeps } from './send-out.ts';

export interface DueDeps extends SendDeps {
  readonly turn: TurnDeps;
  /** Names this process among those that claim. */
  readonly by: string;
  /** Why a call that nobody could be rung back about becomes urgent, as the record keeps it. */
  readonly notReached: string;
}

/** `down`: the store is; whatever was claimed waits for its time-out. */
export type Ran = 'none' | 'done' | 'down';

/** After so long what was claimed was left by a process that died: longer than any sending takes. */
const CLAIM_MILLIS = 2 * MINUTE;

export async function sendOneDue(deps: DueDeps): Promise<Ran> {
  const now = deps.turn.clock.now();
  const claimed = await deps.outbox.claim({ now, by: deps.by, leftBefore: now - CLAIM_MILLIS });
  if (!claimed.ok) return 'down';
  const message = claimed.value;
  if (message === null) return 'none';
  const loaded = await loadCall(deps.turn, message.call);
  if (!loaded.ok) return putOff(deps, message, loaded.fault);
  if (!isStillDue(message, loaded.value.snapshot.context)) {
    return (await deps.outbox.withdraw(message.id)).ok ? 'done' : 'down';
  }
  if (message.template === 'not-reached') {
    const raised = await raise(deps, message, loaded.value);
    if (raised?.ok === false && raised.fault.code === 'store-down') return 'down';
  }
  const sent = await sendOut(deps, message, loaded.value);
  if (sent.kind === 'down') return 'down';
  if (sent.kind === 'later') return (await deps.outbox.release(message.id, sent.at)).ok ? 'done' : 'down';
  const written = await writeAttempt(deps, message, sent);
  return written.ok ? 'done' : putOff(deps, message, written.fault);
}

/** A call that cannot be read or written now: the message is not lost, it comes again. */
async function putOff(
  { outbox, turn: { clock } }: DueDeps,
  message: StoredMessage,
  why: Fault,
): Promise<Ran> {
  if (why.code === 'store-down') return 'down';
  return (await outbox.release(message.id, clock.now() + MINUTE)).ok ? 'done' : 'down';
}

function writeAttempt(deps: DueDeps, message: StoredMessage, sent: Sending): Promise<Result<unknown, Fault>> {
  const { rung, staff, came, providerId } = sent;
  return turn(deps.turn, {
    call: message.call,
    token: attemptToken(message, came),
    by: 'system',
    input: { kind: 'attempt', what: message.kind, message: message.id, rung, staff, came, providerId },
  });
}

/** Three tries to ring back, and nobody reached: the clinician on call decides on a welfare check. */
async function raise(
  deps: DueDeps,
  message: StoredMessage,
  { runner, snapshot }: Loaded,
): Promise<Result<unknown, Fault> | null> {
  if (isUrgent(assessmentOf(runner.compiled.flow, snapshot.context).outcome)) return null;
  return turn(deps.turn, {
    call: message.call,
    token: `${message.id}#raise`,
    by: 'system',
    input: { kind: 'raise', to: { ...WITHIN_THE_HOUR }, why: deps.notReached },
  });
}
