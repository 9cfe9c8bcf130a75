/** Who signed which content of a flow, and until when. A signature holds for exactly that content hash. */
import { z } from 'zod';
import { daysBetween } from '../basics/civil-time.ts';
import { foldName } from '../basics/fold-name.ts';

const day = z.string().regex(/^\d{4}-\d{2}-\d{2}$/, 'a date as "YYYY-MM-DD" in quotes');

/** In what capacity somebody signs. */
export const SIGNERS = ['surgeon', 'safety'] as const;
export type Signer = (typeof SIGNERS)[number];

/** `flows/approvals.yaml`; an empty list means that nothing is signed. */
export const approvalsSchema = z.strictObject({
  approvals: z.array(
    z.strictObject({
      procedure: z.string(),
      hash: z.string().regex(/^[0-9a-f]{64}$/, 'a content hash of 64 hexadecimal digits in quotes'),
      as: z.enum(SIGNERS),
      by: z.string().trim().min(1),
      on: day,
      until: day,
      withdrawn: z.exactOptional(day),
      withdrawnBy: z.exactOptional(z.string().trim().min(1)),
    }),
  ),
});
export type Approval = z.infer<typeof approvalsSchema>['approvals'][number];

export type ApprovalState = 'approved' | 'expired' | 'withdrawn' | 'unsigned';

/**
 * Approved needs a surgeon and a safety officer, two different people, on this very hash, neither withdrawn nor past
 * its last day. One name written in two ways is one person. Anything unclear is unsigned. `today` is YYYY-MM-DD in the
 * practice's zone.
 */
export function approvalState(approvals: readonly Approval[], hash: string, today: string): ApprovalState {
  const signed = approvals.filter((one) => one.hash === hash);
  if (isSignedByTwo(signed, today)) return 'approved';
  if (signed.some(({ withdrawn }) => withdrawn !== undefined)) return 'withdrawn';
  return signed.some(({ until }) => until < today) ? 'expired' : 'unsigned';
}

function isSignedByTwo(signed: readonly Approval[], today: string): boolean {
  const valid = signed.filter((one) => isValid(one, today));
  const surgeons = valid.filter(({ as }) => as === 'surgeon');
  const officers = valid.filter(({ as }) => as === 'safety');
  return surgeons.some((surgeon) => officers.some((officer) => !isSamePerson(surgeon.by, officer.by)));
}

function isValid({ on, until, withdrawn }: Approval, today: string): boolean {
  return withdrawn === undefined && on <= today && until >= today;
}

function isSamePerson(a: string, b: string): boolean {
  return foldName(a) === foldName(b);
}

/** A withdrawal that nobody has signed over since; a call that runs on such content goes to a person. */
export function isWithdrawn(approvals: readonly Approval[], hash: string, today: string): boolean {
  return approvalState(approvals, hash, today) === 'withdrawn';
}

/** Why this signature is not taken, in one sentence; null when it is. */
export function whyNotSigned(approvals: readonly Approval[], wanted: Approval): string | null {
  if (wanted.until < wanted.on) {
    return `The last day ${wanted.until} has passed already; today or a later day is accepted.`;
  }
  const other = approvals.find(
    (one) =>
      one.hash === wanted.hash &&
      one.as !== wanted.as &&
      isValid(one, wanted.on) &&
      isSamePerson(one.by, wanted.by),
  );
  if (other === undefined) return null;
  return `${wanted.procedure} is signed by ${other.by} as ${other.as} already; a second, different person is accepted as ${wanted.as}.`;
}

/** A flow as it stands in the files today. */
export interface CurrentFlow {
  readonly procedure: string;
  readonly hash: string;
}

export interface SignedState extends CurrentFlow {
  readonly state: ApprovalState;
  /** The last day on which both signatures hold; null when it is not approved. */
  readonly until: string | null;
  /** Some earlier content was signed and not withdrawn, and an edit has changed it since. */
  readonly changed: boolean;
  /** Which signatures hold today. */
  readonly signed: readonly Signer[];
}

export function signedState(
  approvals: readonly Approval[],
  { procedure, hash }: CurrentFlow,
  today: string,
): SignedState {
  const state = approvalState(approvals, hash, today);
  const own = approvals.filter((one) => one.hash === hash && isValid(one, today));
  const earlier = approvals.some(
    (one) => one.procedure === procedure && one.hash !== hash && one.withdrawn === undefined,
  );
  const isOfThis = approvals.some((one) => one.hash === hash);
  return {
    procedure,
    hash,
    state,
    until: state === 'approved' ? lastDay(own, today) : null,
    changed: earlier && !isOfThis,
    signed: SIGNERS.filter((as) => own.some((one) => one.as === as)),
  };
}

/** The last day on which a pair of different people still stands behind it; pairs are few, so all days are tried. */
function lastDay(own: readonly Approval[], today: string): string | null {
  const ends = [...new Set(own.map(({ until }) => until))].toSorted();
  return ends.findLast((end) => end >= today && isSignedByTwo(own, end)) ?? null;
}

/** On these many days before its end, and on every day nearer than the last, an approval is warned about. */
export const WARN_DAYS = [30, 7, 1] as const;

export interface ExpiryWarning extends CurrentFlow {
  readonly until: string;
  /** 0 on the last day itself. */
  readonly daysLeft: number;
  /** The nearest of the days of warning that has come. */
  readonly warnedAt: (typeof WARN_DAYS)[number];
}

/** Which approvals end within 30 days, soonest first. */
export function expiryWarnings(states: readonly SignedState[], today: string): readonly ExpiryWarning[] {
  return states
    .flatMap(({ procedure, hash, until }) => {
      if (until === null) return [];
      const left = daysBetween(today, until);
      const warnedAt = WARN_DAYS.findLast((days) => left.ok && left.value <= days);
      return left.ok && warnedAt !== undefined
        ? [{ procedure, hash, until, daysLeft: left.value, warnedAt }]
        : [];
    })
    .toSorted((a, b) => a.daysLeft - b.daysLeft);
}
