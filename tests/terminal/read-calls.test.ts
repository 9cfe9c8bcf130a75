/** Files of demo calls that cannot be used are refused with one sentence: the file, the place, what is accepted. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { readCalls } from '../../src/terminal/read-calls.ts';
import { tempDir } from '../support/temp-dir.ts';

function refused(name: string, text: string): string {
  const folder = tempDir();
  const file = join(folder, name);
  writeFileSync(file, text);
  const read = readCalls([file]);
  if (read.ok) return 'accepted';
  return read.fault.message.replace(`${folder}/`, '');
}

const CALL = 'procedure: breast-lift\n';

describe('a file of calls is refused', () => {
  test.each([
    ['calls.jsonl', '', /^calls\.jsonl: .* is accepted\.$/],
    ['calls.jsonl', '\n  \n', /^calls\.jsonl: .* is accepted\.$/],
    [
      'calls.jsonl',
      '{"procedure":"breast-lift","day":3}\n{"procedure":',
      /^calls\.jsonl:2: .*JSON.* is accepted\.$/,
    ],
    ['calls.jsonl', '{"procedure":"breast-lift","wat":3}', /^calls\.jsonl:1: .*wat/],
    ['call.yaml', '', /^call\.yaml:1 .* is accepted\.$/],
    ['call.yaml', `${CALL}day: 3\nwat: 1\n`, /^call\.yaml:3 .*"wat".* is accepted\.$/],
    ['call.yaml', `${CALL}day: 5\nhoursSince: 11\n`, /^call\.yaml: day 5 .*11; day 0 or 1 is accepted\.$/],
  ])('%s holding %j', (name, text, sentence) => {
    expect(refused(name, text)).toMatch(sentence);
    expect(refused(name, text)).not.toContain('\n');
  });

  test('but not for a day that no script covers, which the general script takes', () => {
    expect(refused('call.yaml', `${CALL}day: 400\n`)).toBe('accepted');
    expect(refused('call.yaml', `${CALL}hoursSince: 9999\n`)).toBe('accepted');
  });
});
