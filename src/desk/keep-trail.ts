/**
 * Adds to the audit trail before anybody hears an answer. The same look at the same things by the same person from the
 * same place is one entry in five minutes, because a page that stands open asks again and again.
 */
import type { Clock, Millis } from '../basics/clock.ts';
import { newId } from '../basics/ids.ts';
import { ok, type Result } from '../basics/result.ts';
import type { AuditTrail } from '../people/audit-trail.ts';
import type { SignedIn } from '../people/staff.ts';
import type { Audited } from './audited.ts';

export interface Seen extends Audited {
  readonly who: SignedIn;
  readonly from: string;
  readonly isChange: boolean;
}

export type KeepTrail = (seen: Seen) => Promise<Result<void, 'store-down'>>;

const SAME_LOOK_MILLIS = 5 * 60_000;
const REMEMBERED_AT_MOST = 5_000;

export function keepTrail(trail: AuditTrail, clock: Clock): KeepTrail {
  const looked = new Map<string, Millis>();
  return async ({ who, from, isChange, what, about }) => {
    const at = clock.now();
    const look = JSON.stringify([who.id, from, what, about]);
    const before = looked.get(look);
    if (!isChange && before !== undefined && at < before + SAME_LOOK_MILLIS) return ok(undefined);
    const kept = await trail.add({ id: newId(), at, who: who.id, role: who.role, what, about, from });
    if (looked.size >= REMEMBERED_AT_MOST) looked.clear();
    if (kept.ok) looked.set(look, at);
    return kept;
  };
}
