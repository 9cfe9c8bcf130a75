/** The key file is made once, for its owner only, and never replaced. */
import { chmodSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readOrMakeKeyFile } from '../../src/store/key-file.ts';
import { valueOf } from '../contract/a-turn.ts';
import { tempDir } from '../support/temp-dir.ts';

describe('the key file', () => {
  it('is made where there is none, readable by its owner only, and read the next time', () => {
    const file = join(tempDir(), 'practice.key');
    const made = valueOf(readOrMakeKeyFile(file));
    expect(made.practiceKey).toHaveLength(32);
    expect(statSync(file).mode & 0o777).toBe(0o600);
    expect(valueOf(readOrMakeKeyFile(file))).toEqual(made);
  });

  it('is another one in every place, and leaves nothing beside it', () => {
    const folder = tempDir();
    const [one, other] = ['a.key', 'b.key'].map((name) => valueOf(readOrMakeKeyFile(join(folder, name))));
    expect(one?.practiceKey).not.toEqual(other?.practiceKey);
    expect(readdirSync(folder).sort()).toEqual(['a.key', 'b.key']);
  });

  it('that others may read is refused', () => {
    const file = join(tempDir(), 'practice.key');
    readOrMakeKeyFile(file);
    chmodSync(file, 0o640);
    expect(readOrMakeKeyFile(file)).toEqual({ ok: false, fault: 'open-to-others' });
  });

  it.each(['', 'abc', 'g'.repeat(64), 'a'.repeat(63)])(
    'that holds no key is refused and kept: %j',
    (text) => {
      const file = join(tempDir(), 'practice.key');
      writeFileSync(file, text, { mode: 0o600 });
      expect(readOrMakeKeyFile(file)).toEqual({ ok: false, fault: 'malformed' });
      expect(readFileSync(file, 'utf8')).toBe(text);
    },
  );

  it('in a folder that does not exist is not made', () => {
    expect(readOrMakeKeyFile(join(tempDir(), 'none', 'practice.key'))).toEqual({
      ok: false,
      fault: 'unreadable',
    });
  });
});
