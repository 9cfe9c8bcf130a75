/**
 * How often somebody may be wrong. A browser that has signed in with a name before is counted by itself, so that a
 * stranger who guesses shuts out strangers only (OWASP, "Slow Down Online Guessing Attacks with Device Cookies").
 */
import { createHmac, timingSafeEqual } from 'node:crypto';
import type { Clock } from '../../basics/clock.ts';
import { newId } from '../../basics/ids.ts';
import type { SignInDatabase } from './database.ts';

export interface Attempt {
  readonly name: string;
  readonly address: string;
  /** The device cookie as it came. */
  readonly device: string | undefined;
}

export interface Limits {
  readonly mayTry: (attempt: Attempt) => Promise<boolean>;
  readonly wasWrong: (attempt: Attempt) => Promise<void>;
  /** A new device cookie for whoever has just signed in. */
  readonly deviceFor: (name: string) => string;
}

const WINDOW_MILLIS = 15 * 60_000;
/** Wrong tries in a window. A clinic often has one address for all its browsers, so that limit is the widest. */
const WRONG_TRIES = { device: 10, name: 10, address: 40 } as const;

type Kind = keyof typeof WRONG_TRIES;

export function limitsOn(database: SignInDatabase, secret: string, clock: Clock): Limits {
  const { db } = database;
  const keyed = (text: string): string => createHmac('sha256', secret).update(text).digest('base64url');
  const keysOf = ({ name, address, device }: Attempt): readonly (readonly [Kind, string])[] =>
    isDeviceOf(keyed, name, device)
      ? [['device', keyed(`device ${device ?? ''}`)]]
      : [
          ['name', keyed(`name ${name}`)],
          ['address', keyed(`address ${address}`)],
        ];
  return {
    mayTry: async (attempt) => {
      const since = clock.now() - WINDOW_MILLIS;
      for (const [kind, key] of keysOf(attempt)) {
        const rows = await db
          .selectFrom('sign_in_failures')
          .select('id')
          .where('key', '=', key)
          .where('at', '>', since)
          .limit(WRONG_TRIES[kind])
          .execute();
        if (rows.length >= WRONG_TRIES[kind]) return false;
      }
      return true;
    },
    wasWrong: async (attempt) => {
      const at = clock.now();
      await db
        .deleteFrom('sign_in_failures')
        .where('at', '<', at - WINDOW_MILLIS)
        .execute();
      const rows = keysOf(attempt).map(([, key]) => ({ id: newId(), key, at }));
      await db.insertInto('sign_in_failures').values(rows).execute();
    },
    deviceFor: (name) => {
      const nonce = newId();
      return `${nonce}.${keyed(`device of ${name} ${nonce}`)}`;
    },
  };
}

function isDeviceOf(keyed: (text: string) => string, name: string, device: string | undefined): boolean {
  const [nonce = '', mark = ''] = (device ?? '').split('.');
  const right = Buffer.from(keyed(`device of ${name} ${nonce}`));
  const given = Buffer.from(mark);
  return right.length === given.length && timingSafeEqual(right, given);
}
