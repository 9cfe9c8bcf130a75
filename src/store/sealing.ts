/**
 * How what names or quotes is kept unreadable at rest: AES-256-GCM (NIST SP 800-38D) with a fresh 96-bit nonce,
 * keys wrapped by keys, and keyed search tokens (HMAC-SHA-256, FIPS 198-1) from a key of their own.
 */
import { createCipheriv, createDecipheriv, createHmac, hkdfSync, randomBytes } from 'node:crypto';

const KEY_BYTES = 32;
const NONCE_BYTES = 12;
const TAG_BYTES = 16;
const NONCES_A_DRAW = 256;

/** What a practice keeps outside the database. Losing it loses every sealed text; nothing can stand in for it. */
export interface StoreKeys {
  readonly practiceKey: Buffer;
}

/** The two keys made from the practice's: one only wraps other keys, the other only makes search tokens. */
export interface WorkingKeys {
  readonly wrapping: Buffer;
  readonly search: Buffer;
}

export function workingKeys(keys: StoreKeys): WorkingKeys {
  if (keys.practiceKey.length !== KEY_BYTES) throw new Error('The practice key must be 32 bytes.');
  return {
    wrapping: derivedKey(keys.practiceKey, 'wrapping of keys, 1'),
    search: derivedKey(keys.practiceKey, 'search tokens, 1'),
  };
}

// HKDF (RFC 5869): the two uses never share a key.
function derivedKey(practiceKey: Buffer, use: string): Buffer {
  return Buffer.from(hkdfSync('sha256', practiceKey, Buffer.alloc(0), use, KEY_BYTES));
}

export function newKey(): Buffer {
  return randomBytes(KEY_BYTES);
}

/** What a sealed text belongs to. It is authenticated with the text, so a sealed text cannot be moved elsewhere. */
export type Place = readonly (string | number)[];

/** Base64 of nonce, tag and ciphertext. */
export function seal(key: Buffer, text: string, place: Place): string {
  const nonce = nextNonce();
  const cipher = createCipheriv('aes-256-gcm', key, nonce);
  cipher.setAAD(placeBytes(place));
  const body = cipher.update(text, 'utf8');
  const rest = cipher.final();
  return Buffer.concat([nonce, cipher.getAuthTag(), body, rest]).toString('base64');
}

// Drawn from the system many at a time, because one draw costs more than sealing does; each is handed out once.
let nonces = Buffer.alloc(0);

function nextNonce(): Buffer {
  if (nonces.length === 0) nonces = randomBytes(NONCE_BYTES * NONCES_A_DRAW);
  const nonce = nonces.subarray(0, NONCE_BYTES);
  nonces = nonces.subarray(NONCE_BYTES);
  return nonce;
}

/** The text, or null when the key is another one, the place is another one, or a byte was changed. */
export function unseal(key: Buffer, sealed: string, place: Place): string | null {
  const bytes = Buffer.from(sealed, 'base64');
  if (bytes.length < NONCE_BYTES + TAG_BYTES) return null;
  const decipher = createDecipheriv('aes-256-gcm', key, bytes.subarray(0, NONCE_BYTES));
  decipher.setAAD(placeBytes(place));
  decipher.setAuthTag(bytes.subarray(NONCE_BYTES, NONCE_BYTES + TAG_BYTES));
  try {
    const body = decipher.update(bytes.subarray(NONCE_BYTES + TAG_BYTES));
    return Buffer.concat([body, decipher.final()]).toString('utf8');
  } catch {
    return null;
  }
}

function placeBytes(place: Place): Buffer {
  return place.length === 0 ? Buffer.alloc(0) : Buffer.from(JSON.stringify(place), 'utf8');
}

export function wrapKey(wrapper: Buffer, key: Buffer, place: Place): string {
  return seal(wrapper, key.toString('base64'), place);
}

export function unwrapKey(wrapper: Buffer, wrapped: string, place: Place): Buffer | null {
  const text = unseal(wrapper, wrapped, place);
  return text === null ? null : Buffer.from(text, 'base64');
}

export function searchToken(searchKey: Buffer, word: string): string {
  return createHmac('sha256', searchKey).update(word, 'utf8').digest('hex');
}
