/** Who works at the practice, and what each may do at the desk. */
import { z } from 'zod';
import type { StaffId } from '../basics/ids.ts';
import { e164, slug, someText } from './written-forms.ts';

export const ROLES = [
  'nurse',
  'front-desk',
  'on-call-clinician',
  'lead-nurse',
  'flow-author',
  'administrator',
] as const;
export type Role = (typeof ROLES)[number];

export const staffIdSchema = slug.transform((id) => id as StaffId);

export const staffMemberSchema = z.strictObject({
  id: staffIdSchema,
  name: someText,
  role: z.enum(ROLES),
  telephone: e164,
});
export type StaffMember = Readonly<z.infer<typeof staffMemberSchema>>;

/** Who sends a request: somebody of the staff, as they signed in. */
export interface SignedIn {
  readonly id: StaffId;
  readonly name: string;
  readonly role: Role;
}
