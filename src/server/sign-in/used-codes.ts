/** One-time codes that were used: the same code is not taken a second time while the clock would still allow it (RFC 6238, 5.2). */
import { createHash } from 'node:crypto';
import type { Clock } from '../../basics/clock.ts';
import type { SignInDatabase } from './database.ts';

/** Steps of 30 seconds, one on each side of the present. */
const VALID_MILLIS = 120_000;

/** False when this person's code was used before. */
export type ClaimCode = (user: string, code: string) => Promise<boolean>;

export function usedCodesOn({ db }: SignInDatabase, clock: Clock): ClaimCode {
  return async (user, code) => {
    const at = clock.now();
    await db
      .deleteFrom('used_codes')
      .where('at', '<', at - VALID_MILLIS)
      .execute();
    const id = createHash('sha256').update(`${user} ${code}`).digest('base64url');
    const { numInsertedOrUpdatedRows } = await db
      .insertInto('used_codes')
      .values({ id, at })
      .onConflict((conflict) => conflict.doNothing())
      .executeTakeFirst();
    return (numInsertedOrUpdatedRows ?? 0n) > 0n;
  };
}
