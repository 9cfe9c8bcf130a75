/** Links that are handed to one person: minted once, kept only as a hash, over when used or late. */
import { createHash } from 'node:crypto';
import type { Clock, Millis } from '../../basics/clock.ts';
import { newKey } from '../../store/sealing.ts';
import type { LinkRow, SignInDatabase } from './database.ts';

export interface Links {
  /** The secret part, for the address; nobody can read it again. */
  readonly mint: (link: Pick<LinkRow, 'kind' | 'staff' | 'call'>, forMillis: Millis) => Promise<string>;
  /** Null when there is none, or it is late. */
  readonly find: (secret: string) => Promise<LinkRow | null>;
  /** False when somebody else was quicker. */
  readonly use: (secret: string) => Promise<boolean>;
}

export function linksOn({ db }: SignInDatabase, clock: Clock): Links {
  return {
    mint: async ({ kind, staff, call }, forMillis) => {
      const secret = newKey().toString('base64url');
      const now = clock.now();
      await db.deleteFrom('links').where('expires_at', '<', now).execute();
      // A new invitation replaces the one before it.
      if (kind !== 'escalation') {
        await db.deleteFrom('links').where('kind', '=', kind).where('staff', '=', staff).execute();
      }
      const row = { kind, staff, call, expires_at: now + forMillis, failures: 0, session: null };
      await db
        .insertInto('links')
        .values({ hash: hashOf(secret), ...row })
        .execute();
      return secret;
    },
    find: async (secret) => {
      const row = await db
        .selectFrom('links')
        .selectAll()
        .where('hash', '=', hashOf(secret))
        .where('expires_at', '>', clock.now())
        .executeTakeFirst();
      return row ?? null;
    },
    use: async (secret) => {
      const { numDeletedRows } = await db
        .deleteFrom('links')
        .where('hash', '=', hashOf(secret))
        .executeTakeFirst();
      return numDeletedRows > 0n;
    },
  };
}

/** SHA-256 (FIPS 180-4): a secret of 256 bits needs no slower one. */
export function hashOf(secret: string): string {
  return createHash('sha256').update(secret).digest('base64url');
}
