/**
 * The one door to a recorded outcome. A turn loads the call, steps the machine, and writes everything in one commit;
 * a turn is either answered and stored, or neither. Desk, line, text, terminal and replay all come through here.
 */
import type { Clock } from '../basics/clock.ts';
import { fault, type Fault } from '../basics/fault.ts';
import type { CallId, PatientId, OperationId, PromiseId } from '../basics/ids.ts';
import type { Json } from '../basics/json.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import { isUrgent, rank, type Outcome } from '../clinical/outcome.ts';
import { asksEveryday } from './assess.ts';
import { findingsOf } from './standing.ts';
import type { Actor, CallHead, CallStore, NewEvent } from './call-store.ts';
import type { Flows } from './choose-flow.ts';
import type { CallContext } from './context.ts';
import { acceptedEvent, changeEvents, event, inputEvent, toldEvent, type Stamp } from './events.ts';
import type { FlowStore } from './flow-store.ts';
import { followEvents, followOn } from './follow-on.ts';
import type { Following } from './following.ts';
import type { Hearing } from './hear.ts';
import { handoverText, writeHandover, type HandoverPeople } from './handover.ts';
import type { Identifying } from './identify.ts';
import type { TurnInput } from './input.ts';
import { loadCall, newCall, type Loaded, type Runners } from './load-call.ts';
import type { LoadedCalls } from './loaded-calls.ts';
import { replacedEvents } from './lost-flow.ts';
import { afterWithdrawal } from './withdrawn-flow.ts';
import type { PromiseSettings } from './promises.ts';
import { applyInput, type Applied } from './apply-input.ts';
import type { HeardReply } from './heard.ts';
import { BrokenTurn, toSafeEnd } from './safe-end.ts';
import { tellWhenReached, type SpeaksAlone } from './tell-when-reached.ts';
import { resolve, toJson, toStored, type Snapshot } from './snapshot.ts';
import { standingOf, type Runner, type Standing } from './step.ts';

export interface TurnDeps extends PromiseSettings {
  readonly store: CallStore;
  readonly flows: Flows;
  /** Asked before every turn that uses a flow, so it must be cheap for one that it has kept already. */
  readonly keptFlows: FlowStore;
  readonly runners: Runners;
  readonly loaded: LoadedCalls;
  readonly hearing: Hearing;
  readonly identifying: Identifying;
  readonly clock: Clock;
  readonly newId: () => PromiseId;
  readonly following: Following;
  readonly zone: string;
  readonly programVersion: string;
}

export interface TurnRequest {
  readonly call: CallId;
  /** Unique in its call; repeating it gives the same reply and changes nothing. */
  readonly token: string;
  readonly by: Actor;
  readonly input: TurnInput;
  /** What the asker was looking at; a call that stands elsewhere by then refuses the input. Null or left out: anywhere. */
  readonly seen?: { readonly question: string | null; readonly outcome: Outcome | null } | null;
  /** Given by a channel without a nurse: it tells an outcome when it is reached, and says what follows. */
  readonly speaks?: Speaks;
}

export interface Speaks extends SpeaksAlone {
  /** What the channel says next, as data; stored with the reply, so that a repeated token hears the same. */
  readonly says: (saying: Saying) => Json;
}

/** What a channel needs to know to say what comes next. */
export interface Saying {
  readonly before: Standing | null;
  readonly after: Standing;
  readonly runner: Runner;
  readonly heard: HeardReply | null;
  /** The outcome is told for the first time, or has risen. */
  readonly told: boolean;
}

/** What was answered, as it is stored with the turn; a repeated token gets exactly this again. */
export interface TurnReply {
  readonly at: Standing['at'];
  readonly question: string | null;
  readonly again: boolean;
  readonly outcome: string;
  readonly act: string;
  readonly flow: string;
  readonly seq: number;
  /** What the channel said, where no person speaks. */
  readonly said?: Json;
}

export interface TurnDone {
  readonly reply: TurnReply;
  readonly standing: Standing;
  readonly runner: Runner;
  /** The call after this turn, with its people. */
  readonly loaded: Loaded;
  /** The token had been answered before; nothing was changed. */
  readonly repeated: boolean;
}

const TRIES = 20;

/** Throws a BrokenTurn when it meets a defect; the call has gone to its safe end by then, if that could be written. */
export async function turn(deps: TurnDeps, request: TurnRequest): Promise<Result<TurnDone, Fault>> {
  try {
    return await turnThrough(deps, request);
  } catch (defect) {
    deps.loaded.forget(request.call);
    throw new BrokenTurn(defect, await toSafeEnd(deps, request));
  }
}

async function turnThrough(deps: TurnDeps, request: TurnRequest): Promise<Result<TurnDone, Fault>> {
  let done = await turnAsLeft(deps, request);
  let answered = false;
  for (let attempt = 0; attempt < TRIES; attempt += 1) {
    if (typeof done !== 'string') return done;
    deps.loaded.forget(request.call);
    // The token has its reply, and yet it was not found: it cannot be read any more.
    if (answered && done === 'seen') return failed(REPLY_ERASED);
    answered = done === 'seen';
    done = await turnAsStored(deps, request);
  }
  return failed(fault('stale', 'Others are writing to this call; please send it once more.'));
}

type Tried = Result<TurnDone, Fault> | 'stale' | 'seen';

/**
 * From where this process left the call. That may be long past, so it answers only with what the store has accepted:
 * a refusal is not believed before the store was read, and a repeated token is found by the commit.
 */
async function turnAsLeft(deps: TurnDeps, request: TurnRequest): Promise<Tried> {
  const left = request.input.kind === 'start' ? null : deps.loaded.get(request.call);
  if (left === null) return 'stale';
  const { patientId = null, operationId = null } = left.head ?? {};
  const people = await deps.identifying.people(patientId, operationId);
  if (!people.ok) return people;
  const done = await goOn(deps, request, { ...left, ...people.value, stands: null });
  return typeof done === 'string' || done.ok || done.fault.code === 'store-down' ? done : 'stale';
}

async function turnAsStored(deps: TurnDeps, request: TurnRequest): Promise<Tried> {
  const loaded =
    request.input.kind === 'start'
      ? await startOrLoad(deps, request.call)
      : await loadCall(deps, request.call);
  if (!loaded.ok) return loaded;
  const earlier = await deps.store.replyTo(request.call, request.token);
  if (!earlier.ok) return failed(STORE_DOWN);
  if (earlier.value !== null) return ok(repeated(loaded.value, earlier.value));
  if (request.input.kind === 'start' && loaded.value.seq > 0) {
    return failed(fault('not-now', 'This call has begun already; a new call needs an id of its own.'));
  }
  return goOn(deps, request, loaded.value);
}

async function goOn(deps: TurnDeps, request: TurnRequest, found: Loaded): Promise<Tried> {
  const loaded = afterWithdrawal(deps.flows, found);
  if (hasMovedOn(loaded, request.seen ?? null)) return failed(MOVED_ON);
  const stamp = { at: deps.clock.now(), by: request.by };
  const applied = await applyInput(deps, loaded, { call: request.call, input: request.input, stamp });
  if (!applied.ok) return applied;
  const keeping = await deps.keptFlows.keep(applied.value.runner.compiled, stamp.at);
  if (!keeping.ok) return failed(STORE_DOWN);
  const { speaks } = request;
  const silent = { applied: applied.value, told: false };
  const telling = speaks === undefined ? silent : tellWhenReached(applied.value, speaks, stamp);
  return commit(deps, request, { loaded, ...telling, stamp });
}

function hasMovedOn({ runner, snapshot }: Loaded, seen: NonNullable<TurnRequest['seen']> | null): boolean {
  if (seen === null) return false;
  const standing = standingOf(runner, snapshot);
  if ((standing.question?.id ?? null) !== seen.question) return true;
  return seen.outcome !== null && !isSameOutcome(seen.outcome, standing.assessment.outcome);
}

function isSameOutcome(a: Outcome, b: Outcome): boolean {
  return a.outcome === b.outcome && a.within === b.within && a.emergency === b.emergency;
}

const MOVED_ON = fault(
  'stale',
  'Somebody else has moved this call on; what was sent was not counted. Look again.',
);
const STORE_DOWN = fault('store-down', 'The record cannot be written now; nothing was kept of this answer.');
const REPLY_ERASED = fault(
  'not-now',
  'This was answered before, and the answer was erased since; nothing was changed.',
);

async function startOrLoad(deps: TurnDeps, call: CallId): Promise<Result<Loaded, Fault>> {
  const known = await deps.store.load(call);
  if (!known.ok) return failed(STORE_DOWN);
  return known.value === null ? ok(newCall(deps)) : loadCall(deps, call);
}

function repeated(loaded: Loaded, reply: Json): TurnDone {
  const standing = standingOf(loaded.runner, loaded.snapshot);
  return { reply: reply as unknown as TurnReply, standing, runner: loaded.runner, loaded, repeated: true };
}

interface Working {
  readonly loaded: Loaded;
  readonly applied: Applied;
  readonly told: boolean;
  readonly stamp: Stamp;
}

async function commit(
  deps: TurnDeps,
  request: TurnRequest,
  { loaded, applied, told, stamp }: Working,
): Promise<Tried> {
  const before = loaded.seq === 0 ? null : standingOf(loaded.runner, loaded.snapshot);
  const first = standingOf(applied.runner, applied.snapshot);
  const followed = followOn(deps, request, { loaded, applied, before, standing: first, stamp });
  const snapshot = withContext(applied, followed.context);
  const after: Standing = { ...first, context: snapshot.context };
  const people = { patient: applied.patient, operation: applied.operation };
  const events = [
    ...replacedEvents(loaded, before, stamp),
    ...eventsOf(request.input, { before, after, applied, people, stamp }),
  ];
  const seq = loaded.seq + events.length;
  const saying = { before, after, runner: applied.runner, heard: applied.heard ?? null, told };
  const reply = {
    ...replyOf(applied.runner, after, seq),
    ...(request.speaks === undefined ? {} : { said: request.speaks.says(saying) }),
  };
  const head = headOf(deps, { loaded, applied, told, stamp }, after);
  const written = await deps.store.commit({
    call: request.call,
    expectedSeq: loaded.seq,
    sealedRead: loaded.readable,
    token: request.token,
    head,
    events,
    snapshot: toJson(toStored(applied.runner.compiled.hash, snapshot)),
    reply,
    promises: followed.promises,
    messages: followed.messages,
  });
  if (!written.ok) return written.fault === 'store-down' ? failed(STORE_DOWN) : written.fault;
  const left = { head, seq, readable: true, runner: applied.runner, snapshot };
  deps.loaded.leave(request.call, left);
  const now: Loaded = { ...left, ...people, stands: null };
  return ok({ reply, standing: after, runner: applied.runner, loaded: now, repeated: false });
}

function withContext({ runner, snapshot }: Applied, context: CallContext): Snapshot {
  return context === snapshot.context
    ? snapshot
    : resolve(runner.machine, { value: snapshot.value, context });
}

interface Stands {
  readonly before: Standing | null;
  readonly after: Standing;
  readonly applied: Applied;
  readonly people: HandoverPeople;
  readonly stamp: Stamp;
}

function eventsOf(input: TurnInput, stands: Stands): readonly NewEvent[] {
  const { before, after, applied, people, stamp } = stands;
  const { compiled } = applied.runner;
  const came = inputEvent(input, { compiled, after }, stamp);
  const told = input.kind === 'tell' ? [toldEvent(compiled, after, stamp)] : [];
  const accepted = input.kind === 'accept' ? [acceptedEvent(input, after, stamp)] : [];
  const changes = changeEvents(compiled, { before, after }, stamp);
  return [
    ...(came === null ? [] : [came]),
    ...applied.events,
    ...changes,
    ...told,
    ...accepted,
    ...handoverEvents({ before, after, applied, people, stamp }),
    ...followEvents(before, after, stamp),
  ];
}

/** Written when the outcome first becomes urgent, and again whenever it is told or accepted. */
function handoverEvents({ before, after, applied, people, stamp }: Stands): readonly NewEvent[] {
  if (after.assessment.outcome.outcome !== 'urgent-escalation') return [];
  const was = before === null ? 0 : rank(before.assessment.outcome);
  const changed =
    rank(after.assessment.outcome) !== was ||
    before?.at !== after.at ||
    before.context.told !== after.context.told ||
    before.context.accepted !== after.context.accepted;
  if (!changed) return [];
  const text = handoverText(writeHandover(applied.runner.compiled.flow, after, people));
  return [event('handover-written', stamp, { open: {}, sealed: { text } })];
}

function replyOf(runner: Runner, after: Standing, seq: number): TurnReply {
  const { outcome, act } = after.assessment;
  return {
    at: after.at,
    question: after.question?.id ?? null,
    again: after.again,
    outcome: `${outcome.outcome}/${outcome.within}/${outcome.emergency ? 'emergency' : '-'}`,
    act,
    flow: runner.compiled.hash,
    seq,
  };
}

/** An everyday or cut-off call is named as such, so that it is not counted as a second contact later. */
function aboutOf(after: Standing): string | null {
  if (after.context.ending === 'cut-off') return 'cut-off';
  const asked = asksEveryday(findingsOf(after.context));
  return after.assessment.about ?? (asked ? 'everyday' : null);
}

function headOf(deps: TurnDeps, { loaded, applied, stamp }: Working, after: Standing): CallHead {
  const { outcome } = after.assessment;
  const base = loaded.head ?? {
    channel: 'desk',
    direction: 'patient-rang',
    startedAt: stamp.at,
    zone: deps.zone,
  };
  return {
    channel: applied.started?.channel ?? base.channel,
    direction: applied.started?.direction ?? base.direction,
    startedAt: base.startedAt,
    zone: base.zone,
    patientId: applied.patient?.id ?? loaded.head?.patientId ?? (null as PatientId | null),
    operationId: applied.operation?.id ?? loaded.head?.operationId ?? (null as OperationId | null),
    flowHash: applied.runner.compiled.hash,
    lexiconHash: deps.hearing.lexiconHash,
    programVersion: deps.programVersion,
    state: after.at === 'closed' ? 'closed' : 'open',
    outcome:
      after.at === 'asking' && !isUrgent(outcome)
        ? null
        : `${outcome.outcome}/${outcome.within}/${outcome.emergency ? 'emergency' : '-'}`,
    about: aboutOf(after),
  };
}
