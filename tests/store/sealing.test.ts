/** Sealing against the published vectors of its parts. */
import { createHmac } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import {
  newKey,
  searchToken,
  seal,
  unseal,
  unwrapKey,
  workingKeys,
  wrapKey,
} from '../../src/store/sealing.ts';

const KEY = Buffer.alloc(32, 1);

describe('a sealed text', () => {
  // McGrew and Viega, "The Galois/Counter Mode of Operation", test case 14: AES-256, all zero, 16 zero bytes.
  it('opens as AES-256-GCM does', () => {
    const nonce = '000000000000000000000000';
    const tag = 'd0d1c8a799996bf0265b98b5d48ab919';
    const body = 'cea7403d4d606b6e074ec5d3baf39d18';
    const sealed = Buffer.from(nonce + tag + body, 'hex').toString('base64');
    expect(unseal(Buffer.alloc(32), sealed, [])).toBe('\0'.repeat(16));
  });

  it.each(['', 'tight on the left', 'Zoë 👩🏽‍⚕️ \0', 'x'.repeat(100_000)])(
    'opens with its key and place',
    (text) => {
      expect(unseal(KEY, seal(KEY, text, ['event', 'c', 1]), ['event', 'c', 1])).toBe(text);
    },
  );

  it('does not open under another key, in another place, or with a byte changed', () => {
    const sealed = seal(KEY, 'tight on the left', ['event', 'c', 1]);
    expect(unseal(newKey(), sealed, ['event', 'c', 1])).toBeNull();
    expect(unseal(KEY, sealed, ['event', 'c', 2])).toBeNull();
    for (let at = 0; at < Buffer.from(sealed, 'base64').length; at += 1) {
      const bytes = Buffer.from(sealed, 'base64');
      bytes[at] = (bytes[at] ?? 0) ^ 1;
      expect(unseal(KEY, bytes.toString('base64'), ['event', 'c', 1])).toBeNull();
    }
    expect(unseal(KEY, 'AAAA', [])).toBeNull();
  });

  // NIST SP 800-38D, section 8: under one key no nonce may come twice.
  it('never has the nonce of another', () => {
    const nonces = Array.from({ length: 2_000 }, () => seal(KEY, '', []).slice(0, 16));
    expect(new Set(nonces).size).toBe(2_000);
  });
});

describe('a wrapped key', () => {
  it('comes out of its wrapper only', () => {
    const key = newKey();
    const wrapped = wrapKey(KEY, key, ['key', 'call', 'c']);
    expect(unwrapKey(KEY, wrapped, ['key', 'call', 'c'])).toEqual(key);
    expect(unwrapKey(KEY, wrapped, ['key', 'call', 'd'])).toBeNull();
    expect(unwrapKey(newKey(), wrapped, ['key', 'call', 'c'])).toBeNull();
  });
});

describe('a search token', () => {
  // RFC 4231, section 4.3 (test case 2).
  it('is HMAC-SHA-256', () => {
    const token = '5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843';
    expect(searchToken(Buffer.from('Jefe'), 'what do ya want for nothing?')).toBe(token);
  });
});

describe('the working keys', () => {
  // RFC 5869, section 2, written out for one block: no salt means 32 zero bytes.
  it('are derived by HKDF-SHA-256, one for each use', () => {
    const { wrapping, search } = workingKeys({ practiceKey: KEY });
    const extracted = createHmac('sha256', Buffer.alloc(32)).update(KEY).digest();
    const expanded = (use: string) => createHmac('sha256', extracted).update(`${use}\u0001`).digest();
    expect(wrapping).toEqual(expanded('wrapping of keys, 1'));
    expect(search).toEqual(expanded('search tokens, 1'));
  });

  it('are not made from a key of another length', () => {
    expect(() => workingKeys({ practiceKey: Buffer.alloc(16) })).toThrow(/32 bytes/);
  });
});
