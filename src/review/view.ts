/** A call as it is read again: plain data, made from the events of the call and nothing else. */
import type { Millis } from '../basics/clock.ts';
import type { Came, RungName, Tried } from '../call/attempt.ts';
import type { Actor } from '../call/call-store.ts';
import type { Taken } from '../call/heard.ts';
import type { FindingId, FindingValue } from '../clinical/finding.ts';
import type { Outcome } from '../clinical/outcome.ts';
import type { TimeSince } from '../clinical/window.ts';

/** Words or a name as they were said; erased when the key is gone. Null is that none were given. */
export type Kept = { readonly said: string | null } | { readonly erased: true };

export interface Written {
  /** The event that it was read from. */
  readonly seq: number;
  readonly at: Millis;
  readonly by: Actor;
}

export interface ScriptUsed {
  readonly since: Millis;
  readonly flow: string;
  readonly hash: string;
}

export interface RecordHeader {
  readonly channel: string;
  readonly direction: string;
  readonly startedAt: Millis;
  /** IANA name of the practice's zone. */
  readonly zone: string;
  readonly callerNumber: Kept;
  /** In the order in which the call ran on them; the last is the one it ended on. */
  readonly scripts: readonly ScriptUsed[];
  readonly lexicon: string;
  readonly program: string;
  /** As last identified; empty while the operation was not known. */
  readonly procedures: readonly string[];
  readonly times: readonly TimeSince[];
  readonly clinic: 'open' | 'closed';
}

type Correction = 'mis-keyed' | 'taken-back' | null;

/** One thing that was said or done, in order. */
export type ConversationLine = Written &
  (
    | { readonly kind: 'opening'; readonly text: Kept }
    | { readonly kind: 'asked'; readonly question: string; readonly again: boolean; readonly words: string }
    | {
        readonly kind: 'answered';
        readonly question: string;
        readonly value: FindingValue;
        readonly correction: Correction;
      }
    | { readonly kind: 'written'; readonly question: string; readonly text: Kept }
    | {
        readonly kind: 'volunteered';
        readonly findings: Readonly<Record<FindingId, FindingValue>>;
        readonly words: Kept;
        readonly correction: Correction;
      }
    | {
        readonly kind: 'heard';
        readonly question: string | null;
        readonly how: 'speech' | 'keys';
        readonly taken: Taken;
        readonly text: Kept;
      }
    | { readonly kind: 'reopened'; readonly question: string }
    | {
        readonly kind: 'identified';
        readonly procedures: readonly string[];
        readonly times: readonly TimeSince[];
        readonly earlierCalls: number;
        /** What the record brought beside findings: allergies and the like. */
        readonly facts: readonly { readonly fact: string; readonly text: Kept }[];
      }
    | { readonly kind: 'broke'; readonly sent: Kept }
    | { readonly kind: 'noted'; readonly text: Kept }
    | { readonly kind: 'cut-off'; readonly how: 'hung-up' | 'stopped' }
  );

export type How = 'asked' | 'group' | 'volunteered' | 'record';

/** One change of one finding. */
export type FindingChange = Written &
  (
    | {
        readonly kind: 'settled';
        readonly value: FindingValue;
        readonly how: How;
        readonly question: string | null;
      }
    | { readonly kind: 'taken-back'; readonly now: FindingValue }
    | { readonly kind: 'withdrawn' }
  );

export interface FindingStands {
  readonly finding: FindingId;
  /** Null when it was withdrawn and is not known any more. */
  readonly value: FindingValue | null;
  /** What the caller said of it last, where that does not count. */
  readonly takenBackTo: FindingValue | null;
  readonly history: readonly FindingChange[];
}

export interface OutcomeMove extends Written {
  readonly outcome: Outcome;
  readonly act: string;
  readonly points: Readonly<Record<string, number>>;
  readonly redFlags: readonly string[];
  readonly reasons: readonly {
    readonly text: string;
    readonly source: string;
    readonly points: number;
  }[];
}

export interface TellingLine extends Written {
  readonly outcome: PlainOutcome;
  readonly words: readonly string[];
}

/** As written in the event; an outcome of an older release is shown, not judged. */
export interface PlainOutcome {
  readonly outcome: string;
  readonly within: string;
  readonly emergency: boolean;
}

/** What people did to the outcome, and who took it over. */
export type Decision = Written &
  (
    | { readonly kind: 'raised' | 'lowering-asked'; readonly to: PlainOutcome; readonly why: Kept }
    | {
        readonly kind: 'lowered';
        readonly to: PlainOutcome;
        readonly clinician: Kept;
        readonly why: Kept;
        readonly spokeToPatient: boolean;
      }
    | {
        readonly kind: 'accepted';
        readonly to: PlainOutcome;
        readonly clinician: Kept;
        /** Somebody else said so. */
        readonly reported: boolean;
      }
  );

export interface PromiseLine {
  readonly id: string;
  readonly kind: 'escalation' | 'review' | 'call-back';
  readonly openedAt: Millis;
  readonly dueAt: Millis | null;
  readonly owner: string;
  readonly to: Outcome;
  /** As the call left it; what was done about it afterwards stands with the promise. */
  readonly state: 'open' | 'done' | 'withdrawn';
}

/** A try to reach somebody, or what a person made of a promise. */
export type ReachLine = Written &
  (
    | {
        readonly kind: 'attempt';
        readonly what: Tried;
        readonly rung: RungName | null;
        /** Staff id; null where the caller or the desk was reached. */
        readonly staff: string | null;
        readonly came: Came;
      }
    | {
        readonly kind: 'promise';
        readonly promise: 'review' | 'call-back';
        readonly result: 'booked' | 'spoken' | 'not-reached';
        readonly text: Kept;
      }
  );

export interface RecordView {
  readonly header: RecordHeader;
  readonly conversation: readonly ConversationLine[];
  readonly findings: readonly FindingStands[];
  readonly outcomes: readonly OutcomeMove[];
  readonly told: readonly TellingLine[];
  /** The one that was written last. */
  readonly handover: (Written & { readonly text: Kept }) | null;
  readonly decisions: readonly Decision[];
  readonly promises: readonly PromiseLine[];
  readonly reached: readonly ReachLine[];
  readonly closed: (Written & { readonly understood: boolean; readonly agreed: Kept }) | null;
  /** Something of it can no longer be read. */
  readonly erased: boolean;
}
