/** What people do around signing in, as it goes into the audit trail. */
import type { Request } from 'express';
import type { Clock } from '../../basics/clock.ts';
import { newId } from '../../basics/ids.ts';
import type { AuditTrail } from '../../people/audit-trail.ts';
import type { SignedIn } from '../../people/staff.ts';

export type Act =
  | 'signed in'
  | 'sign-in refused'
  | 'signed out'
  | 'signed out everywhere'
  | 'password changed'
  | 'second factor set up'
  | 'second factor removed'
  | 'passkey added'
  | 'passkey removed'
  | 'PIN changed'
  | 'invited'
  | 'invitation taken up'
  | 'role changed'
  | 'disabled'
  | 'enabled'
  | 'escalation opened by link'
  | 'escalation link refused'
  | 'handover read by link'
  | 'escalation accepted by link'
  | 'lowering confirmed by link';

export interface Done {
  readonly act: Act;
  /** Null when nobody that is known did it. */
  readonly who: SignedIn | null;
  readonly about?: readonly string[];
}

export type WriteDown = (request: Request, done: Done) => Promise<void>;

/** Rejects when it cannot be written down: then nothing is done either. */
export function writingDown(trail: AuditTrail, clock: Clock): WriteDown {
  return async (request, { act, who, about = [] }) => {
    const kept = await trail.add({
      id: newId(),
      at: clock.now(),
      who: who?.id ?? 'unknown',
      role: who?.role ?? null,
      what: act,
      about,
      from: request.ip ?? '',
    });
    if (!kept.ok) throw new Error('The audit trail cannot be written.');
  };
}
