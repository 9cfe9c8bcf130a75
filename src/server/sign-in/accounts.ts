/** The staff's accounts: who has one, with which role, and what ends their sessions. */
import { z } from 'zod';
import { ROLES, staffIdSchema, type Role, type SignedIn } from '../../people/staff.ts';
import type { Auth } from './auth.ts';

export interface Account extends SignedIn {
  readonly user: string;
  readonly disabled: boolean;
  readonly hasSecondFactor: boolean;
}

const accountSchema = z
  .object({
    id: z.string(),
    name: z.string(),
    staffId: staffIdSchema,
    role: z.enum(ROLES),
    disabled: z.boolean().nullish(),
    twoFactorEnabled: z.boolean().nullish(),
  })
  .transform((row): Account => ({
    user: row.id,
    id: row.staffId,
    name: row.name,
    role: row.role,
    disabled: row.disabled === true,
    hasSecondFactor: row.twoFactorEnabled === true,
  }));

export interface NewAccount {
  readonly who: SignedIn;
  /** Null until the invitation is taken up. */
  readonly passwordHash: string | null;
}

/** A sign-in name as it is typed: in any case, in any form of Unicode, with spaces around. */
export function signInName(typed: string): string {
  return typed.normalize('NFKC').trim().toLowerCase();
}

/** The library knows people by an address for mail; nothing is ever sent there (RFC 2606: `.invalid` never exists). */
export function addressOf(name: string): string {
  return `${name}@staff.invalid`;
}

export async function listAccounts(auth: Auth): Promise<readonly Account[]> {
  const { adapter } = await auth.$context;
  const rows = await adapter.findMany({ model: 'user', limit: 1_000 });
  return z.array(accountSchema).parse(rows);
}

export async function accountNamed(auth: Auth, name: string): Promise<Account | null> {
  const { internalAdapter } = await auth.$context;
  const found = await internalAdapter.findUserByEmail(addressOf(name));
  return found === null ? null : accountSchema.parse(found.user);
}

export async function addAccount(auth: Auth, { who, passwordHash }: NewAccount): Promise<void> {
  const { internalAdapter } = await auth.$context;
  const user = {
    name: who.name,
    email: addressOf(who.id),
    emailVerified: true,
    staffId: who.id,
    role: who.role,
  };
  const { id } = await internalAdapter.createUser(user, { method: 'admin' });
  if (passwordHash === null) return;
  await internalAdapter.linkAccount({
    userId: id,
    providerId: 'credential',
    accountId: id,
    password: passwordHash,
  });
}

export async function changeAccount(
  auth: Auth,
  user: string,
  change: { readonly role?: Role; readonly disabled?: boolean },
): Promise<void> {
  const { internalAdapter } = await auth.$context;
  await internalAdapter.updateUser(user, change);
  await internalAdapter.deleteUserSessions(user);
}
