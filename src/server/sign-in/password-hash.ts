/** Passwords at rest: scrypt (RFC 7914) with its cost written beside, so that a later cost reads an earlier hash. */
import { scrypt, timingSafeEqual } from 'node:crypto';
import { newKey } from '../../store/sealing.ts';

export interface ScryptCost {
  readonly n: number;
  readonly r: number;
  readonly p: number;
}

/** OWASP, "Password Storage Cheat Sheet": one of the equally strong settings for scrypt. */
export const FULL_COST: ScryptCost = { n: 2 ** 14, r: 8, p: 5 };

const HASH_BYTES = 64;
const SALT_BYTES = 16;
const FORM = /^scrypt:(\d+):(\d+):(\d+):([0-9a-f]{32}):([0-9a-f]{128})$/;

export async function hashPassword(password: string, cost: ScryptCost = FULL_COST): Promise<string> {
  const salt = newKey().subarray(0, SALT_BYTES);
  const hash = await derive(password, salt, cost);
  return ['scrypt', cost.n, cost.r, cost.p, salt.toString('hex'), hash.toString('hex')].join(':');
}

/** False for a wrong password, and for a text that is no hash. */
export async function isPassword(password: string, stored: string): Promise<boolean> {
  const [, n, r, p, salt, hash] = FORM.exec(stored) ?? [];
  if (salt === undefined || hash === undefined) return false;
  const cost = { n: Number(n), r: Number(r), p: Number(p) };
  const given = await derive(password, Buffer.from(salt, 'hex'), cost);
  return timingSafeEqual(given, Buffer.from(hash, 'hex'));
}

// One form of Unicode, so that a keyboard that composes letters differently still gives the same password.
function derive(password: string, salt: Buffer, { n, r, p }: ScryptCost): Promise<Buffer> {
  const options = { N: n, r, p, maxmem: 256 * n * r };
  return new Promise((resolve, reject) => {
    scrypt(password.normalize('NFKC'), salt, HASH_BYTES, options, (error, key) => {
      if (error === null) resolve(key);
      else reject(error);
    });
  });
}
