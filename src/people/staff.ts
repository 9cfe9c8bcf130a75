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

export const staffIdSchema = slug.transform((id) => id as StaffId);

export const staffMemberSchema = z.strictObject({
  id: staffIdSchema,
  name: someText,
  role: z.enum(ROLES),
  telephone: e164,
});
export type StaffMember = Readonly<z.infer<typeof staffMemberSchema>>;
