/** Who looked at or changed what, when and from where: entries that are added and read, never changed. */
import type { Millis } from '../basics/clock.ts';
import type { Result } from '../basics/result.ts';
import type { Role } from './staff.ts';

export interface AuditEntry {
  /** Time-ordered. */
  readonly id: string;
  readonly at: Millis;
  /** The staff id, or the sign-in name that was tried when nobody signed in. */
  readonly who: string;
  readonly role: Role | null;
  /** A route of the desk with what was put into it, or an act around signing in; never a name of a patient. */
  readonly what: string;
  /** Ids of the calls, patients or staff that it was about. */
  readonly about: readonly string[];
  /** The network address of the browser. */
  readonly from: string;
}

export interface AuditQuery {
  /** A staff id, or the id of a call or patient; null gives everything. */
  readonly on: string | null;
  /** Only entries older than the one with this id; null begins with the newest. */
  readonly before: string | null;
  readonly limit: number;
}

export interface AuditTrail {
  readonly add: (entry: AuditEntry) => Promise<Result<void, 'store-down'>>;
  /** Newest first. */
  readonly read: (query: AuditQuery) => Promise<Result<readonly AuditEntry[], 'store-down'>>;
}
