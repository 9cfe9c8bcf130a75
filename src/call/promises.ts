/** The promises that follow from where a call stands: an escalation, a review, a call-back, each with owner and due time. */
import { MINUTE } from '../basics/civil-time.ts';
import type { Millis } from '../basics/clock.ts';
import type { PromiseId } from '../basics/ids.ts';
import { isUrgent, rank, type Outcome, type Within } from '../clinical/outcome.ts';
import type { Channel, PromiseKind, PromiseWrite } from './call-store.ts';
import { isAccepted, isConfirmed } from './closing.ts';
import type { CallBackReason, CallContext, PromiseMade } from './context.ts';
import type { Standing } from './step.ts';

/** What the practice's settings say about owners and times; given by whoever composes the program. */
export interface PromiseSettings {
  readonly dueAt: (within: Within, now: Millis) => Millis | null;
  /** The staff id of whoever is rung first at that time. */
  readonly onCallFirst: (now: Millis) => string;
  /** By when a nurse checks on advice that no person gave; sooner on days 0 to 2 and when the day is not known. */
  readonly nurseCheckAt: (day: number | null, now: Millis) => Millis;
}

/** What a turn knows besides where the call stands. */
export interface PromiseTurn {
  readonly now: Millis;
  readonly channel: Channel;
  /** A person says that this one was kept: a visit was booked, the caller was spoken to. */
  readonly kept: PromiseKind | null;
}

interface Wanted {
  readonly kind: PromiseKind;
  readonly owner: string;
  readonly to: Outcome;
  readonly reason: CallBackReason | null;
  /** When it is due if it begins at that time. */
  readonly dueFrom: (start: Millis) => Millis | null;
}

export interface PromiseChange {
  /** Only what this turn opened or changed: what became of a promise meanwhile is not written over. */
  readonly writes: readonly PromiseWrite[];
  readonly made: CallContext['promises'];
}

/** As soon as after a call that broke off with something worrying (practice rule): how worrying is not known then. */
export const BROKE_MINUTES = 5;

const KINDS = ['escalation', 'review', 'call-back'] as const;

/**
 * An urgent outcome is a promise as soon as it shows; a review when the questions are over; a call-back when the call
 * was cut off. Its time runs from when it first followed and never moves later because the call goes on. A promise
 * that no longer follows is withdrawn; one that a clinician accepted or a person kept stays done until the outcome rises.
 */
export function promisesAfter(
  standing: Standing,
  turn: PromiseTurn,
  deps: PromiseSettings & { readonly newId: () => PromiseId },
): PromiseChange {
  const wanted = wantedNow(standing, turn, deps);
  const made: CallContext['promises'] = {};
  const writes: PromiseWrite[] = [];
  for (const kind of KINDS) {
    const before = standing.context.promises[kind] ?? null;
    const want = wanted.find((one) => one.kind === kind) ?? null;
    const after = want === null ? null : promiseAfter(standing, before, { want, turn, newId: deps.newId });
    const kept = after ?? (before?.state === 'done' ? before : null);
    if (kept !== null) made[kind] = kept;
    if (before !== null && before.id !== kept?.id && before.state === 'open') {
      writes.push({ ...promiseWrite(kind, before), state: 'withdrawn' });
    }
    if (after !== null && !isSame(before, after)) writes.push(promiseWrite(kind, after));
  }
  return { writes, made };
}

interface Promising {
  readonly want: Wanted;
  readonly turn: PromiseTurn;
  readonly newId: () => PromiseId;
}

function promiseAfter(
  standing: Standing,
  before: PromiseMade | null,
  { want, turn: { now, kept }, newId }: Promising,
): PromiseMade {
  const done =
    (want.kind === 'escalation' && isConfirmed(standing.context, want.to)) ||
    (want.kind === kept && before?.state === 'open') ||
    (want.kind !== 'escalation' && before?.state === 'done' && rank(want.to) <= rank(before.to));
  const state = done ? 'done' : 'open';
  // What was accepted is over; an outcome that has risen since is a promise of its own.
  if (before === null || (before.state === 'done' && !done)) {
    const { to, owner, reason } = want;
    return { id: newId(), openedAt: now, dueAt: want.dueFrom(now), owner, to, state, reason };
  }
  const isSooner = rank(want.to) > rank(before.to);
  const dueAt = isSooner
    ? earliest(before.dueAt, want.dueFrom(now))
    : isEqual(want.to, before.to)
      ? before.dueAt
      : want.dueFrom(before.openedAt);
  return { ...before, dueAt, to: want.to, state, reason: want.reason };
}

function isEqual(a: Outcome, b: Outcome): boolean {
  return rank(a) === rank(b);
}

function earliest(a: Millis | null, b: Millis | null): Millis | null {
  return a === null || b === null ? (a ?? b) : Math.min(a, b);
}

function isSame(a: PromiseMade | null, b: PromiseMade): boolean {
  return a?.id === b.id && a.dueAt === b.dueAt && a.state === b.state && isEqual(a.to, b.to);
}

export function promiseWrite(kind: PromiseKind, made: PromiseMade): PromiseWrite {
  const { id, openedAt, dueAt, owner, to, state, reason } = made;
  return {
    id,
    kind,
    openedAt,
    dueAt,
    owner,
    state,
    open: { within: to.within, emergency: to.emergency, reason },
  };
}

function wantedNow(standing: Standing, turn: PromiseTurn, settings: PromiseSettings): readonly Wanted[] {
  const { assessment, context } = standing;
  const { outcome } = assessment;
  const dueFrom = (start: Millis): Millis | null => settings.dueAt(outcome.within, start);
  const wanted: Wanted[] = [];
  if (isUrgent(outcome)) {
    const owner = settings.onCallFirst(turn.now);
    wanted.push({ kind: 'escalation', owner, to: outcome, reason: null, dueFrom });
  }
  const isOver = standing.at !== 'asking' || context.promises.review !== undefined;
  if (outcome.outcome === 'arrange-review' && isOver && !isOnlyLogged(standing)) {
    wanted.push({ kind: 'review', owner: 'desk', to: outcome, reason: null, dueFrom });
  }
  const back = callBack(standing, turn.channel);
  if (back !== null && !isAccepted(context, outcome)) {
    const [time] = context.times;
    const ringFrom = (start: Millis): Millis =>
      back.minutes === null ? settings.nurseCheckAt(time?.day ?? null, start) : start + back.minutes * MINUTE;
    wanted.push({ kind: 'call-back', owner: 'desk', to: outcome, reason: back.reason, dueFrom: ringFrom });
  }
  return wanted;
}

/** A silent call that nobody is to be rung back for. */
function isOnlyLogged({ assessment, context }: Standing): boolean {
  const nothing = context.asked.length === 0 && context.opening === null;
  return nothing && context.ending === 'cut-off' && assessment.ringBackWithin === null;
}

interface CallBack {
  /** Null is by the time of a nurse check. */
  readonly minutes: number | null;
  readonly reason: CallBackReason;
}

/**
 * Cut off: 5 or 20 minutes. The program broke on the call: within 5, whatever else holds. The patient was not there, or only a text came: rung within 20. An emergency: called back
 * in 10. Advice that no person gave is checked by a nurse.
 */
function callBack({ assessment, context, at }: Standing, channel: Channel): CallBack | null {
  const { ringBackWithin, outcome } = assessment;
  const made = context.promises['call-back'] ?? null;
  const broke = made?.reason === 'broke' && made.state === 'open';
  if (ringBackWithin !== null) {
    return { minutes: broke ? Math.min(ringBackWithin, BROKE_MINUTES) : ringBackWithin, reason: 'cut-off' };
  }
  if (broke) return { minutes: BROKE_MINUTES, reason: 'broke' };
  if (outcome.emergency) return { minutes: 10, reason: 'emergency' };
  if (channel === 'text') return { minutes: 20, reason: 'text' };
  const absent = context.held['patient-beside-caller']?.value === 'no';
  if (absent && at !== 'asking') return { minutes: 20, reason: 'absent' };
  return advisedByNobody(outcome, at, channel) ? { minutes: null, reason: 'nurse-check' } : null;
}

function advisedByNobody({ outcome }: Outcome, at: Standing['at'], channel: Channel): boolean {
  if (outcome !== 'advise' || at === 'asking') return false;
  switch (channel) {
    case 'line':
    case 'trial':
    case 'text':
      return true;
    case 'desk':
    case 'terminal':
    case 'replay':
      return false;
  }
}
