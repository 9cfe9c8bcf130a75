/** Puts a caller through: whom to ring next, for how long, and what is said when nobody takes the call. */
import type { Saying } from '../call/turn.ts';
import type { Address } from './address.ts';
import type { LineDeps } from './deps.ts';
import { end, names } from './end.ts';
import type { Spoken } from './spoken.ts';
import { filled } from './words.ts';

export interface Ringing {
  readonly saying: Saying;
  readonly to: Address;
  readonly say: readonly string[];
}

/** The place of the desk in the row of those who are rung; clinicians begin at 0. */
export const DESK_RUNG = 90;

/** The provider lets it ring five seconds longer than it is told. */
const HIDDEN = 5;

/** A caller waits no longer than the practice says in all (90 seconds). The next who can be rung in the time left; nobody left: what to do, and the end. */
export function connect(deps: LineDeps, ringing: Ringing): Spoken {
  const { to, say } = ringing;
  const { line } = deps.practice;
  const now = deps.turn.clock.now();
  const until = to.until === 0 ? now + line.waitSeconds * 1000 : to.until;
  const whom = whomToRing(deps, to.rung, now);
  const left = Math.floor((until - now) / 1000) - HIDDEN;
  const seconds = Math.min(line.ringSeconds, left);
  if (whom === null || seconds < HIDDEN) return nobody(deps, ringing);
  const { telephone, staff } = whom;
  return {
    say: [...say],
    then: { kind: 'dial', telephone, staff, seconds, to: { ...to, step: 'dial', ask: '', until } },
  };
}

export interface Whom {
  readonly staff: string;
  readonly rung: string;
  readonly name: string;
  readonly telephone: string;
}

export function whomToRing(deps: LineDeps, rung: number, now: number): Whom | null {
  if (rung === DESK_RUNG) {
    return { staff: 'desk', rung: 'desk', name: 'desk', telephone: deps.practice.telephones.desk };
  }
  return deps.ladder(now)[rung] ?? null;
}

function nobody(deps: LineDeps, { saying, say }: Ringing): Spoken {
  const { words, practice } = deps;
  const { outcome } = saying.after.assessment;
  const place = practice.seenAt['emergency-department'];
  const text = outcome.emergency ? words.emergencyNobody : words.nobody;
  const values = {
    ...names(deps),
    minutes: String(practice.line.rungBackMinutes),
    place: place.name,
    address: place.address,
  };
  return end(deps, [...say, filled(text, values)]);
}
