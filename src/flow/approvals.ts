/** Who signed which content of a flow, and until when. A signature holds for exactly that content hash. */
import { z } from 'zod';
import { foldName } from '../basics/fold-name.ts';

const day = z.string().regex(/^\d{4}-\d{2}-\d{2}$/, 'a date as "YYYY-MM-DD" in quotes');

/** `flows/approvals.yaml`; an empty list means that nothing is signed. */
export const approvalsSchema = z.strictObject({
  approvals: z.array(
    z.strictObject({
      procedure: z.string(),
      hash: z.string().regex(/^[0-9a-f]{64}$/, 'a content hash of 64 hexadecimal digits in quotes'),
      as: z.enum(['surgeon', 'safety']),
      by: z.string().trim().min(1),
      on: day,
      until: day,
      withdrawn: z.exactOptional(day),
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
  const valid = signed.filter((one) => one.withdrawn === undefined && one.on <= today && one.until >= today);
  const surgeons = valid.filter(({ as }) => as === 'surgeon');
  const officers = valid.filter(({ as }) => as === 'safety');
  if (surgeons.some((surgeon) => officers.some(({ by }) => foldName(by) !== foldName(surgeon.by))))
    return 'approved';
  if (signed.some(({ withdrawn }) => withdrawn !== undefined)) return 'withdrawn';
  return signed.some(({ until }) => until < today) ? 'expired' : 'unsigned';
}
