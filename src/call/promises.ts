/** The promises that follow from where a call stands: an escalation, a review, a call-back, each with owner and due time. */
import type { Millis } from '../basics/clock.ts';
import type { PromiseId } from '../basics/ids.ts';
import type { Outcome, Within } from '../clinical/outcome.ts';
import type { PromiseKind, PromiseWrite } from './call-store.ts';
import type { CallContext } from './context.ts';
import { isUrgent } from './machine.ts';
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
  readonly dueAt: Millis | null;
  readonly open: { readonly within: Within; readonly emergency: boolean };
}

export interface PromiseChange {
  readonly writes: readonly PromiseWrite[];
  readonly ids: CallContext['promises'];
}

const MINUTE = 60_000;

/**
 * An urgent outcome is a promise as soon as it shows; a review when the questions are over; a call-back when the call
 * was cut off. A promise that no longer follows is withdrawn; an accepted escalation or a closed call keeps its own.
 */
export function promisesAfter(
  standing: Standing,
  now: Millis,
  deps: PromiseSettings & { readonly newId: () => PromiseId },
): PromiseChange {
  const wanted = wantedNow(standing, now, deps);
  const before = standing.context.promises;
  const ids: CallContext['promises'] = { ...before };
  const writes: PromiseWrite[] = [];
  for (const kind of ['escalation', 'review', 'call-back'] as const) {
    const want = wanted.find((one) => one.kind === kind);
    const known = before[kind] as PromiseId | undefined;
    if (want === undefined) {
      if (known !== undefined) {
        writes.push(written({ id: known, kind, now, state: 'withdrawn' }, null));
        delete ids[kind];
      }
      continue;
    }
    const id = known ?? deps.newId();
    ids[kind] = id;
    const done = kind === 'escalation' && standing.context.accepted !== null;
    writes.push(written({ id, kind, now, state: done ? 'done' : 'open' }, want));
  }
  return { writes, ids };
}

interface Base {
  readonly id: PromiseId;
  readonly kind: PromiseKind;
  readonly now: Millis;
  readonly state: PromiseWrite['state'];
}

function written(base: Base, want: Wanted | null): PromiseWrite {
  return {
    id: base.id,
    kind: base.kind,
    openedAt: base.now,
    dueAt: want?.dueAt ?? null,
    owner: want?.owner ?? 'desk',
    state: base.state,
    open: want?.open ?? {},
  };
}

function wantedNow(standing: Standing, now: Millis, settings: PromiseSettings): readonly Wanted[] {
  const { assessment, context } = standing;
  const { outcome } = assessment;
  const wanted: Wanted[] = [];
  if (isUrgent(outcome)) {
    const owner = settings.onCallFirst(now);
    wanted.push({
      kind: 'escalation',
      owner,
      dueAt: settings.dueAt(outcome.within, now),
      open: openOf(outcome),
    });
  }
  if (outcome.outcome === 'arrange-review' && standing.at !== 'asking' && !isOnlyLogged(standing)) {
    const dueAt = settings.dueAt(outcome.within, now);
    wanted.push({ kind: 'review', owner: 'desk', dueAt, open: openOf(outcome) });
  }
  const ring = ringBackMinutes(standing);
  if (ring !== null && context.accepted === null) {
    wanted.push({ kind: 'call-back', owner: 'desk', dueAt: now + ring * MINUTE, open: openOf(outcome) });
  }
  return wanted;
}

/** A silent call that nobody is to be rung back for. */
function isOnlyLogged({ assessment, context }: Standing): boolean {
  const nothing = context.asked.length === 0 && context.opening === null;
  return nothing && context.ending === 'cut-off' && assessment.ringBackWithin === null;
}

function openOf(outcome: Outcome): Wanted['open'] {
  return { within: outcome.within, emergency: outcome.emergency };
}

/** Cut off: 5 or 20 minutes. The patient was not there: rung within 20. An emergency: called back in 10. */
function ringBackMinutes({ assessment, context, at }: Standing): number | null {
  if (assessment.ringBackWithin !== null) return assessment.ringBackWithin;
  if (assessment.outcome.emergency) return 10;
  const absent = context.held['patient-beside-caller']?.value === 'no';
  return absent && at !== 'asking' ? 20 : null;
}
