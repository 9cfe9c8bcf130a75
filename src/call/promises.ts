/** The promises that follow from where a call stands: an escalation, a review, a call-back, each with owner and due time. */
import { MINUTE } from '../basics/civil-time.ts';
import type { Millis } from '../basics/clock.ts';
import type { PromiseId } from '../basics/ids.ts';
import { isUrgent, rank, type Outcome, type Within } from '../clinical/outcome.ts';
import type { PromiseKind, PromiseWrite } from './call-store.ts';
import { isAccepted } from './closing.ts';
import type { CallContext, PromiseMade } from './context.ts';
import type { Standing } from './step.ts';

/** What the practice's settings say about owners and times; given by whoever composes the program. */
export interface PromiseSettings {
  readonly dueAt: (within: Within, now: Millis) => Millis | null;
  /** The staff id of whoever is rung first at that time. */
  readonly onCallFirst: (now: Millis) => string;
}

interface Wanted {
  readonly kind: PromiseKind;
  readonly owner: string;
  readonly to: Outcome;
  /** When it is due if it begins at that time. */
  readonly dueFrom: (start: Millis) => Millis | null;
}

export interface PromiseChange {
  /** Only what this turn opened or changed: what became of a promise meanwhile is not written over. */
  readonly writes: readonly PromiseWrite[];
  readonly made: CallContext['promises'];
}

const KINDS = ['escalation', 'review', 'call-back'] as const;

/**
 * An urgent outcome is a promise as soon as it shows; a review when the questions are over; a call-back when the call
 * was cut off. Its time runs from when it first followed and never moves later because the call goes on. A promise
 * that no longer follows is withdrawn; one that a clinician accepted stays done.
 */
export function promisesAfter(
  standing: Standing,
  now: Millis,
  deps: PromiseSettings & { readonly newId: () => PromiseId },
): PromiseChange {
  const wanted = wantedNow(standing, now, deps);
  const made: CallContext['promises'] = {};
  const writes: PromiseWrite[] = [];
  for (const kind of KINDS) {
    const before = standing.context.promises[kind] ?? null;
    const want = wanted.find((one) => one.kind === kind) ?? null;
    const after = want === null ? null : promiseAfter(standing, before, { want, now, newId: deps.newId });
    const kept = after ?? (before?.state === 'done' ? before : null);
    if (kept !== null) made[kind] = kept;
    if (before !== null && before.id !== kept?.id && before.state === 'open') {
      writes.push({ ...written(kind, before), state: 'withdrawn' });
    }
    if (after !== null && !isSame(before, after)) writes.push(written(kind, after));
  }
  return { writes, made };
}

interface Promising {
  readonly want: Wanted;
  readonly now: Millis;
  readonly newId: () => PromiseId;
}

function promiseAfter(
  standing: Standing,
  before: PromiseMade | null,
  { want, now, newId }: Promising,
): PromiseMade {
  const done = want.kind === 'escalation' && isAccepted(standing.context, want.to);
  const state = done ? 'done' : 'open';
  // What was accepted is over; an outcome that has risen since is a promise of its own.
  if (before === null || (before.state === 'done' && !done)) {
    const { to, owner } = want;
    return { id: newId(), openedAt: now, dueAt: want.dueFrom(now), owner, to, state };
  }
  const isSooner = rank(want.to) > rank(before.to);
  const dueAt = isSooner
    ? earliest(before.dueAt, want.dueFrom(now))
    : isEqual(want.to, before.to)
      ? before.dueAt
      : want.dueFrom(before.openedAt);
  return { ...before, dueAt, to: want.to, state };
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

function written(kind: PromiseKind, made: PromiseMade): PromiseWrite {
  const { id, openedAt, dueAt, owner, to, state } = made;
  return {
    id,
    kind,
    openedAt,
    dueAt,
    owner,
    state,
    open: { within: to.within, emergency: to.emergency },
  };
}

function wantedNow(standing: Standing, now: Millis, settings: PromiseSettings): readonly Wanted[] {
  const { assessment, context } = standing;
  const { outcome } = assessment;
  const dueFrom = (start: Millis): Millis | null => settings.dueAt(outcome.within, start);
  const wanted: Wanted[] = [];
  if (isUrgent(outcome)) {
    const owner = settings.onCallFirst(now);
    wanted.push({ kind: 'escalation', owner, to: outcome, dueFrom });
  }
  const isOver = standing.at !== 'asking' || context.promises.review !== undefined;
  if (outcome.outcome === 'arrange-review' && isOver && !isOnlyLogged(standing)) {
    wanted.push({ kind: 'review', owner: 'desk', to: outcome, dueFrom });
  }
  const ring = ringBackMinutes(standing);
  if (ring !== null && !isAccepted(context, outcome)) {
    const callBack = (start: Millis): Millis => start + ring * MINUTE;
    wanted.push({ kind: 'call-back', owner: 'desk', to: outcome, dueFrom: callBack });
  }
  return wanted;
}

/** A silent call that nobody is to be rung back for. */
function isOnlyLogged({ assessment, context }: Standing): boolean {
  const nothing = context.asked.length === 0 && context.opening === null;
  return nothing && context.ending === 'cut-off' && assessment.ringBackWithin === null;
}

/** Cut off: 5 or 20 minutes. The patient was not there: rung within 20. An emergency: called back in 10. */
function ringBackMinutes({ assessment, context, at }: Standing): number | null {
  if (assessment.ringBackWithin !== null) return assessment.ringBackWithin;
  if (assessment.outcome.emergency) return 10;
  const absent = context.held['patient-beside-caller']?.value === 'no';
  return absent && at !== 'asking' ? 20 : null;
}
