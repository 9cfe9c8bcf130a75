/** Reads the practice key from its file, or makes one that only its owner can read. The key itself is never shown. */
import {
  closeSync,
  fsyncSync,
  linkSync,
  openSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname } from 'node:path';
import { failed, ok } from '../basics/result.ts';
import type { Result } from '../basics/result.ts';
import { newKey } from './sealing.ts';
import type { StoreKeys } from './sealing.ts';

/** `open-to-others`: the file's mode lets somebody else read it. `malformed`: it is not 64 hexadecimal digits. */
export type KeyFileFault = 'open-to-others' | 'malformed' | 'unreadable';

/** A key that exists is never replaced: without it nothing sealed could be read again. */
export function readOrMakeKeyFile(file: string): Result<StoreKeys, KeyFileFault> {
  try {
    makeWhereNone(file);
    return readKeyFile(file);
  } catch {
    return failed('unreadable');
  }
}

function readKeyFile(file: string): Result<StoreKeys, KeyFileFault> {
  if ((statSync(file).mode & 0o077) !== 0) return failed('open-to-others');
  const text = readFileSync(file, 'utf8').trim();
  return /^[0-9a-f]{64}$/.test(text) ? ok({ practiceKey: Buffer.from(text, 'hex') }) : failed('malformed');
}

// Written apart and linked into place, so that nobody ever reads half a key and the first of two makers wins.
function makeWhereNone(file: string): void {
  if (exists(file)) return;
  const draft = `${file}.${newKey().toString('hex').slice(0, 16)}`;
  writeFileSync(draft, `${newKey().toString('hex')}\n`, { mode: 0o600, flag: 'wx', flush: true });
  try {
    linkSync(draft, file);
    keepEntry(dirname(file));
  } catch (error) {
    if (!exists(file)) throw error;
  } finally {
    rmSync(draft);
  }
}

// The data outlives a power cut only if its key does.
function keepEntry(folder: string): void {
  const handle = openSync(folder, 'r');
  fsyncSync(handle);
  closeSync(handle);
}

function exists(file: string): boolean {
  return statSync(file, { throwIfNoEntry: false }) !== undefined;
}
