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

export async function accountOfUser(auth: Auth, user: string): Promise<Account | null> {
  const { internalAdapter } = await auth.$context;
  const found = await internalAdapter.findUserById(user);
  return found === null ? null : accountSchema.parse(found);
}

export interface NewAccount {
  readonly who: SignedIn;
  /** Null until the invitation is taken up. */
  readonly passwordHash: string | null;
  /** By which the practice's own accounts know the person; null where they do not. */
  readonly workEmail?: string | null;
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

export async function addAccount(
  auth: Auth,
  { who, passwordHash, workEmail = null }: NewAccount,
): Promise<void> {
  const { internalAdapter } = await auth.$context;
  const user = {
    name: who.name,
    email: addressOf(who.id),
    emailVerified: true,
    staffId: who.id,
    role: who.role,
    workEmail: workEmail?.toLowerCase() ?? null,
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

/** By a link that the administrator made: the new password replaces the old one, and a second factor that was lost goes. */
export async function setPassword(auth: Auth, user: string, passwordHash: string): Promise<void> {
  const { internalAdapter, adapter } = await auth.$context;
  const known = await internalAdapter.findCredentialAccount(user);
  if (known === null) {
    await internalAdapter.linkAccount({
      userId: user,
      providerId: 'credential',
      accountId: user,
      password: passwordHash,
    });
  } else await internalAdapter.updatePassword(user, passwordHash);
  const where = [{ field: 'userId', value: user }];
  await adapter.deleteMany({ model: 'twoFactor', where });
  await adapter.deleteMany({ model: 'passkey', where });
  await internalAdapter.updateUser(user, { twoFactorEnabled: false });
  await internalAdapter.deleteUserSessions(user);
}
