/** Facts about files on a real disk; text encoding by RFC 3629 (UTF-8). */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { readFolder } from '../../src/content/read-folder.ts';
import { tempDir } from '../support/temp-dir.ts';

test('every .yaml file below the folder is read, sorted by path; other files are left alone', () => {
  const folder = tempDir();
  mkdirSync(join(folder, 'places'));
  writeFileSync(join(folder, 'b.yaml'), 'name: Zdzisława\n');
  writeFileSync(join(folder, 'places', 'a.yaml'), 'a: 1\n');
  writeFileSync(join(folder, 'notes.txt'), 'not read');
  expect(readFolder(folder)).toEqual({
    ok: true,
    value: [
      { file: join(folder, 'b.yaml'), below: 'b.yaml', text: 'name: Zdzisława\n' },
      { file: join(folder, 'places', 'a.yaml'), below: 'places/a.yaml', text: 'a: 1\n' },
    ],
  });
});

test('a file that nothing would read because of its ending is said', () => {
  const folder = tempDir();
  writeFileSync(join(folder, 'rules.yml'), 'a: 1\n');
  expect(readFolder(folder)).toMatchObject({
    ok: false,
    fault: [
      {
        code: 'unreadable',
        file: join(folder, 'rules.yml'),
        message: expect.stringContaining('.yaml is accepted') as string,
      },
    ],
  });
});

test('bytes that are no UTF-8 are refused, not replaced', () => {
  const folder = tempDir();
  // RFC 3629: the octets C0 and FF never appear in UTF-8.
  writeFileSync(join(folder, 'a.yaml'), Buffer.from([0x61, 0x3a, 0x20, 0xc0, 0xff]));
  expect(readFolder(folder)).toMatchObject({ ok: false, fault: [{ code: 'unreadable', line: 1 }] });
});

test('a folder that is not there is a diagnostic', () => {
  expect(readFolder(join(tempDir(), 'gone'))).toMatchObject({ ok: false, fault: [{ code: 'unreadable' }] });
});
