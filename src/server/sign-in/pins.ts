/** The PIN of an on-call clinician: six digits, kept as a password is, good only together with a link. */
import type { SignInDatabase } from './database.ts';
import { FULL_COST, hashPassword, isPassword, type ScryptCost } from './password-hash.ts';

/** Six digits, neither all alike nor counting up or down. */
export function isGoodPin(pin: string): boolean {
  if (!/^\d{6}$/.test(pin)) return false;
  const steps = new Set([...pin].slice(1).map((digit, at) => Number(digit) - Number(pin[at])));
  const [step] = steps;
  return steps.size > 1 || step === undefined || Math.abs(step) > 1;
}

interface NewPin {
  readonly staff: string;
  readonly pin: string;
  readonly cost?: ScryptCost;
}

export async function keepPin(
  { db }: SignInDatabase,
  { staff, pin, cost = FULL_COST }: NewPin,
): Promise<void> {
  const hash = await hashPassword(pin, cost);
  await db
    .insertInto('pins')
    .values({ staff, hash })
    .onConflict((conflict) => conflict.column('staff').doUpdateSet({ hash }))
    .execute();
}

export async function isPin({ db }: SignInDatabase, staff: string, pin: string): Promise<boolean> {
  const kept = await db.selectFrom('pins').select('hash').where('staff', '=', staff).executeTakeFirst();
  return kept !== undefined && (await isPassword(pin, kept.hash));
}
