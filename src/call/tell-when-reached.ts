/** A voice that speaks alone tells an outcome when it is reached, in the same turn: from then on it is a floor. */
import { ADVISE, NEXT_WORKING_DAY, isUrgent, rank, type Outcome } from '../clinical/outcome.ts';
import type { Applied } from './apply-input.ts';
import { event, toldEvent, type Stamp } from './events.ts';
import type { HeardReply } from './heard.ts';
import type { MachineEvent } from './machine.ts';
import { raiserOf } from './raiser.ts';
import { standingOf, step, type Standing } from './step.ts';

/** What a channel without a nurse is allowed to do, by the flow that the call runs on. */
export interface SpeaksAlone {
  /** Whether the call may end in advice; otherwise a nurse rings on the next working day (practice rule). */
  readonly mayAdvise: (flow: string) => boolean;
  /** Why it was raised where it may not, as the record keeps it. */
  readonly why: string;
  /** What a reply raises the outcome to, beside what it says: a person was asked for, nothing was understood. */
  readonly raises: (heard: HeardReply | null) => Raise | null;
}

export interface Raise {
  readonly to: Outcome;
  readonly why: string;
}

export interface Told {
  readonly applied: Applied;
  readonly told: boolean;
}

export function tellWhenReached(applied: Applied, alone: SpeaksAlone, stamp: Stamp): Told {
  const asked = raisedTo(applied, alone.raises(applied.heard ?? null), stamp);
  const raised = raisedTo(asked, raiseWhereItMayNotAdvise(asked, alone), stamp);
  const standing = standingOf(raised.runner, raised.snapshot);
  if (!isReached(standing) || isTold(standing)) return { applied: raised, told: false };
  const telling = stepped(raised, { type: 'TELL' });
  const after = standingOf(telling.runner, telling.snapshot);
  const said = toldEvent(telling.runner.compiled, after, stamp);
  return { applied: { ...telling, events: [...telling.events, said] }, told: true };
}

function raiseWhereItMayNotAdvise(applied: Applied, alone: SpeaksAlone): Raise | null {
  const { at, assessment } = standingOf(applied.runner, applied.snapshot);
  const isAdvice = at === 'outcome' && rank(assessment.outcome) === rank(ADVISE);
  const may = !isAdvice || alone.mayAdvise(applied.runner.compiled.flow.id);
  return may ? null : { to: NEXT_WORKING_DAY, why: alone.why };
}

function raisedTo(applied: Applied, raise: Raise | null, stamp: Stamp): Applied {
  if (raise === null || standingOf(applied.runner, applied.snapshot).at === 'closed') return applied;
  const raised = stepped(applied, { type: 'RAISE', to: raise.to, by: raiserOf(stamp.by) });
  const { outcome, within, emergency } = raise.to;
  const said = event('raised', stamp, { open: { outcome, within, emergency }, sealed: { why: raise.why } });
  return { ...raised, events: [...raised.events, said] };
}

function stepped(applied: Applied, one: MachineEvent): Applied {
  const next = step(applied.runner, applied.snapshot, one);
  if (!next.ok) throw new Error(`A call that is open takes ${one.type} where its outcome shows.`);
  return { ...applied, snapshot: next.value };
}

/** At the end of the questions; before it as soon as a red flag or an emergency shows. */
function isReached({ at, assessment, context }: Standing): boolean {
  if (context.ending === 'cut-off') return false;
  if (at === 'outcome') return true;
  const { outcome, redFlags } = assessment;
  return at === 'asking' && (outcome.emergency || (isUrgent(outcome) && redFlags.length > 0));
}

function isTold({ assessment, context }: Standing): boolean {
  return context.told !== null && rank(assessment.outcome) <= rank(context.told);
}
