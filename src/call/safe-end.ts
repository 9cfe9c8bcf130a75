/**
 * Where a live call goes when the program breaks on it: what was sent is written down, and a call-back is open. Nothing
 * here asks the machine or assesses anything, because that may be what broke.
 */
import type { Json } from '../basics/json.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import { MINUTE } from '../basics/civil-time.ts';
import { SAME_DAY } from '../clinical/outcome.ts';
import type { CallHead, LoadedCall } from './call-store.ts';
import { contextSchema, type CallContext, type PromiseMade } from './context.ts';
import { event, startedEvent, type Stamp } from './events.ts';
import type { OutboxWrite } from './outbox.ts';
import { BROKE_MINUTES, promiseWrite } from './promises.ts';
import { readStored, resolve, toJson } from './snapshot.ts';
import { standingOf } from './step.ts';
import type { TurnDeps, TurnRequest } from './turn.ts';
import { readEvent } from './upcast.ts';

/** A defect that a turn met, and whether the safe end was reached all the same. */
export class BrokenTurn extends Error {
  override readonly name = 'BrokenTurn';
  /** What was sent is in the record and somebody is to ring back. */
  readonly writtenDown: boolean;

  constructor(cause: unknown, writtenDown: boolean) {
    super('A turn of a call broke.', { cause });
    this.writtenDown = writtenDown;
  }
}

const TRIES = 5;

type Sent = Pick<TurnRequest, 'call' | 'token' | 'by' | 'input'>;
type Promises = CallContext['promises'];

/** False when nothing could be written: the call does not exist or is closed, or the store cannot be used either. */
export async function toSafeEnd(deps: TurnDeps, sent: Sent): Promise<boolean> {
  try {
    for (let attempt = 0; attempt < TRIES; attempt += 1) {
      const written = await writeDown(deps, sent);
      if (written.ok) return written.value;
    }
    return false;
  } catch {
    // What broke the turn may break this as well; whoever asked is told that nothing is written.
    return false;
  }
}

async function writeDown(deps: TurnDeps, sent: Sent): Promise<Result<boolean, 'stale'>> {
  const stamp: Stamp = { at: deps.clock.now(), by: sent.by };
  const [known, promised] = await Promise.all([
    deps.store.load(sent.call),
    deps.store.eventsOf(sent.call, 'promised'),
  ]);
  if (!known.ok || !promised.ok) return ok(false);
  const stands = known.value ?? beginning(deps, sent, stamp);
  if (stands === null || stands.head.state === 'closed') return ok(false);
  const last = promised.value.at(-1);
  const before = last === undefined ? {} : contextSchema.shape.promises.parse(readEvent(last).open);
  const promises: Promises = { ...before, 'call-back': callBack(before['call-back'] ?? null, deps, stamp) };
  const broke = { input: sent.input.kind };
  const written = await deps.store.commit({
    call: sent.call,
    expectedSeq: stands.seq,
    sealedRead: stands.snapshot !== null,
    // Of its own, so that the answer itself can be sent once more; and once for each answer.
    token: `${sent.token}:broke`,
    head: stands.head,
    events: [
      ...(sent.input.kind === 'start' && stands.seq === 0
        ? [startedEvent(deps, sent.input, { compiled: deps.flows.general, clinic: 'closed', stamp })]
        : []),
      event('broke', stamp, { open: broke, sealed: { sent: JSON.stringify(sent.input) } }),
      event('promised', stamp, { open: JSON.parse(JSON.stringify(promises)) as Json }),
    ],
    snapshot: withPromises(stands, promises),
    reply: { broke: true },
    promises: promises['call-back'] === undefined ? [] : [promiseWrite('call-back', promises['call-back'])],
    messages: messagesOf(deps, sent, { stands, promises, stamp }),
  });
  if (written.ok || written.fault === 'seen') return ok(true);
  return written.fault === 'stale' ? failed('stale') : ok(false);
}

/** One that is open already is kept, and made sooner where it is later. */
function callBack(before: PromiseMade | null, deps: TurnDeps, { at }: Stamp): PromiseMade {
  const dueAt = at + BROKE_MINUTES * MINUTE;
  if (before?.state === 'open') {
    const reason = before.reason === 'cut-off' ? before.reason : 'broke';
    return { ...before, reason, dueAt: before.dueAt === null ? dueAt : Math.min(before.dueAt, dueAt) };
  }
  const to = { ...SAME_DAY };
  return { id: deps.newId(), openedAt: at, dueAt, owner: 'desk', to, state: 'open', reason: 'broke' };
}

/** A call that broke on its very beginning; only its beginning can be made of what was sent. */
function beginning(deps: TurnDeps, { call, input }: Sent, { at }: Stamp): LoadedCall | null {
  if (input.kind !== 'start') return null;
  const head: CallHead = {
    channel: input.channel,
    direction: input.direction,
    startedAt: at,
    zone: deps.zone,
    patientId: null,
    operationId: null,
    flowHash: deps.flows.general.hash,
    lexiconHash: deps.hearing.lexiconHash,
    programVersion: deps.programVersion,
    state: 'open',
    outcome: null,
    about: null,
  };
  return { call, head, seq: 0, snapshot: null };
}

function withPromises({ head, snapshot }: LoadedCall, promises: Promises): Json {
  const stored = snapshot === null ? null : readStored(snapshot, head.flowHash);
  // One that does not fit is rebuilt from the events, which hold the promise.
  if (stored?.ok !== true) return snapshot;
  return toJson({ ...stored.value, context: { ...stored.value.context, promises } });
}

interface Ending {
  readonly stands: LoadedCall;
  readonly promises: Promises;
  readonly stamp: Stamp;
}

/** The deadline of the call-back, as far as where the call stands can still be told. */
function messagesOf(deps: TurnDeps, { call, input }: Sent, ending: Ending): readonly OutboxWrite[] {
  const { stands, promises, stamp } = ending;
  try {
    const { head, snapshot } = stands;
    const runner = deps.runners.known(head.flowHash);
    const stored = snapshot === null ? null : readStored(snapshot, head.flowHash);
    if (runner === null || stored?.ok !== true) return [];
    const before = standingOf(runner, resolve(runner.machine, stored.value));
    const after = { ...before, context: { ...before.context, promises } };
    return deps.following({ call, channel: head.channel, input, before, after, patient: null, stamp })
      .messages;
  } catch {
    // The call-back itself is open all the same, and stands in the list of the desk.
    return [];
  }
}
