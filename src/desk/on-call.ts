/** Whom to ring now, in order, with numbers; when the rota names nobody, the consultant of last resort. */
import { MINUTE } from '../basics/civil-time.ts';
import type { Millis } from '../basics/clock.ts';
import { showTelephone } from '../people/show-telephone.ts';
import type { Place } from '../people/places.ts';
import type { Practice } from '../people/practice.ts';
import { whoIsOnCall, type Rung } from '../people/rota.ts';
import type { StaffMember } from '../people/staff.ts';
import type { RungShape } from './contract/common.ts';

export interface OnCallNow {
  readonly ladder: readonly RungShape[];
  readonly gaps: readonly Rung[];
}

interface Known {
  readonly minute: number;
  readonly onCall: OnCallNow;
}

const known = new WeakMap<Practice, Known>();

/** Duties change on the minute, so within one minute the answer is the same. */
export function onCallNow(practice: Practice, now: Millis): OnCallNow {
  const minute = Math.floor(now / MINUTE);
  const before = known.get(practice);
  if (before?.minute === minute) return before.onCall;
  const onCall = onCallAt(practice, now);
  known.set(practice, { minute, onCall });
  return onCall;
}

function onCallAt(practice: Practice, now: Millis): OnCallNow {
  const onCall = whoIsOnCall(practice, now);
  if (onCall.ok) {
    const { ladder, gaps } = onCall.value;
    return { ladder: ladder.map(({ rung, staff }) => rungOf(practice, rung, staff)), gaps };
  }
  const { lastResort } = onCall.fault;
  const ladder = lastResort === null ? [] : [rungOf(practice, 'last-resort', lastResort)];
  return { ladder, gaps: ['first', 'second', 'consultant'] };
}

function rungOf(practice: Practice, rung: RungShape['rung'], staff: StaffMember): RungShape {
  return {
    rung,
    name: staff.name,
    dial: staff.telephone,
    shown: showTelephone(staff.telephone, practice.country),
  };
}

/** A public number of the practice's country as the page shows it. */
export function publicNumber(route: Place['emergency'] | Place['crisis']) {
  return { dial: route.number, say: route.say, choose: 'choose' in route ? route.choose : null };
}
