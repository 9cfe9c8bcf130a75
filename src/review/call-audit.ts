/** What the log needs of a store: which calls a stretch of time holds, who took them, and who has re-read them. */
import type { Millis } from '../basics/clock.ts';
import type { CallId } from '../basics/ids.ts';
import type { Result } from '../basics/result.ts';
import type { LoadedHead } from '../call/call-store.ts';

/** That somebody re-read a call, and what they have to say about it. */
export interface CallAudit {
  /** Time-ordered; the same id again changes nothing. */
  readonly id: string;
  readonly call: CallId;
  readonly at: Millis;
  /** A staff id. */
  readonly who: string;
  /** Null when the call's key is gone. */
  readonly comment: string | null;
}

export interface CallAudits {
  /** `not-found`: there is no such call, or its key is gone. */
  readonly add: (
    audit: CallAudit & { readonly comment: string },
  ) => Promise<Result<void, 'not-found' | 'store-down'>>;
  /** In order of time. */
  readonly of: (call: CallId) => Promise<Result<readonly CallAudit[], 'store-down'>>;
  /** Calls that began from `since` to before `until`, newest first. */
  readonly callsBetween: (span: CallSpan) => Promise<Result<readonly LoadedHead[], 'store-down'>>;
  /** The first person who did something in the call: a staff id, or null when only the machine did. */
  readonly takenBy: (call: CallId) => Promise<Result<string | null, 'store-down'>>;
}

export interface CallSpan {
  readonly since: Millis;
  readonly until: Millis;
  readonly limit: number;
}
