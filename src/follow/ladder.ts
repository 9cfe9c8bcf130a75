/** Whom to ring next about an open escalation, and when: the ladder of the rota, round and round until somebody accepts. */
import { MINUTE } from '../basics/civil-time.ts';
import type { Millis } from '../basics/clock.ts';
import { RUNG_NAMES, type Attempt, type Came, type RungName } from '../call/attempt.ts';
import { whoIsOnCall, type OnCallPlan } from '../people/rota.ts';
import type { StaffMember } from '../people/staff.ts';

/** Minutes that one rung has to accept, before the next is rung as well. Practice rule: 2 in an emergency, else 5. */
export interface RungMinutes {
  readonly emergency: number;
  readonly hour: number;
}

export interface LadderAsk {
  readonly plan: OnCallPlan;
  readonly emergency: boolean;
  readonly minutes: RungMinutes;
  /** When the escalation was opened, in UTC milliseconds. */
  readonly openedAt: Millis;
  /** Earlier tries of this escalation, oldest first; the last round is enough. */
  readonly attempts: readonly Attempt[];
  readonly now: Millis;
}

export type NextRung =
  | {
      readonly kind: 'ring';
      readonly rung: RungName;
      readonly staff: StaffMember;
      /** Not before this moment; it may lie in the past. */
      readonly at: Millis;
    }
  /** Somebody accepted. */
  | { readonly kind: 'accepted' }
  /** The settings name nobody at all; a person at the desk has to know. */
  | { readonly kind: 'nobody' };

/**
 * First, second, consultant, then the first again. A rung that refused, was busy, did not answer or could not be
 * reached is followed at once; one of which nothing is known has its minutes. Nobody is rung again within the minutes
 * of one rung, so that a round of refusals does not become a storm.
 */
export function nextRung(ask: LadderAsk): NextRung {
  const { attempts, openedAt } = ask;
  if (attempts.some(({ came }) => came === 'accepted')) return { kind: 'accepted' };
  const last = attempts.at(-1);
  const next = rungAfter(ask, last?.rung ?? null);
  if (next === null) return { kind: 'nobody' };
  const millis = rungMillis(ask);
  const before = attempts.findLast(({ staff }) => staff === next.staff.id);
  const follows = last === undefined ? openedAt : isOver(last.came) ? last.cameAt : last.at + millis;
  const rested = before === undefined ? openedAt : before.at + millis;
  return { kind: 'ring', ...next, at: Math.max(follows, rested) };
}

export function rungMillis({ emergency, minutes }: Pick<LadderAsk, 'emergency' | 'minutes'>): number {
  return (emergency ? minutes.emergency : minutes.hour) * MINUTE;
}

/** Whether the try is over and nobody took the call. */
export function isOver(came: Came): boolean {
  switch (came) {
    case 'refused':
    case 'busy':
    case 'no-answer':
    case 'voicemail':
    case 'not-accepted':
    case 'failed':
      return true;
    case 'sent':
    case 'shown':
    case 'delivered':
    case 'accepted':
      return false;
  }
}

interface Standing {
  readonly rung: RungName;
  readonly staff: StaffMember;
}

/** The next rung on which somebody stands now; after the last one the first. */
function rungAfter({ plan, now }: LadderAsk, last: RungName | null): Standing | null {
  const onCall = whoIsOnCall(plan, now);
  if (!onCall.ok) {
    const { lastResort } = onCall.fault;
    return lastResort === null ? null : { rung: 'last-resort', staff: lastResort };
  }
  const { ladder } = onCall.value;
  const place = last === null ? -1 : RUNG_NAMES.indexOf(last);
  return ladder.find(({ rung }) => RUNG_NAMES.indexOf(rung) > place) ?? ladder[0] ?? null;
}

/** Who is rung at the first, second ... try of something that has no ladder of its own; null when nobody can be. */
export function rungOfTry(plan: OnCallPlan, now: Millis, tries: number): Standing | null {
  const onCall = whoIsOnCall(plan, now);
  if (!onCall.ok) {
    const { lastResort } = onCall.fault;
    return lastResort === null ? null : { rung: 'last-resort', staff: lastResort };
  }
  const { ladder } = onCall.value;
  return ladder[Math.max(0, tries - 1) % ladder.length] ?? null;
}
