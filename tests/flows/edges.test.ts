/** The second entry: its rows hold on the real scripts, and a slip on either side is noticed with file and line. */
import { describe, expect, it } from 'vitest';
import { loadFlows } from '../../src/flow/library.ts';
import { readFolder, type TextFile } from '../../src/content/read-folder.ts';
import { checkEdges } from '../../src/prove/edges.ts';

const read = readFolder('flows');
if (!read.ok) throw new Error('The scripts cannot be read.');
const files = read.value;

function gapsWith(change: (file: TextFile) => string): readonly string[] {
  const library = loadFlows(files.map((file) => ({ ...file, text: change(file) })));
  if (!library.ok) throw new Error(library.fault.map(({ message }) => message).join('\n'));
  return checkEdges(library.value).gaps.map(({ file, message }) => `${file}: ${message}`);
}

function inFile(below: string, from: string, to: string): (file: TextFile) => string {
  return (file) => {
    if (file.below !== below) return file.text;
    expect(file.text).toContain(from);
    return file.text.replace(from, to);
  };
}

const ONE_LEG = 'days: 0-84\n    red-flag:';

describe('the second entry', () => {
  it('agrees with the scripts in every row', () => {
    expect(gapsWith(({ text }) => text)).toEqual([]);
  });

  // Twelve weeks: NICE NG158, Million Women Study BMJ 2009;339:b4583.
  it('notices a window of a rule that ends a day early', () => {
    const gaps = gapsWith(inFile('topics/legs.yaml', ONE_LEG, ONE_LEG.replace('84', '83')));
    expect(gaps.some((gap) => gap.includes('tummy-tuck, day 84, one-leg-swollen yes'))).toBe(true);
  });

  it('notices a window of a rule that ends a day late', () => {
    const gaps = gapsWith(inFile('topics/legs.yaml', ONE_LEG, ONE_LEG.replace('84', '85')));
    expect(gaps.some((gap) => gap.includes('tummy-tuck, day 85, one-leg-swollen yes'))).toBe(true);
  });

  it('notices a word that a safety text has lost', () => {
    const gaps = gapsWith(
      inFile('topics/legs.yaml', 'One leg swollen, sore or warm', 'One leg sore or warm'),
    );
    expect(gaps).toEqual([
      expect.stringContaining('"swollen" is missing in: One leg sore or warm: ring at once.'),
    ]);
  });
});
