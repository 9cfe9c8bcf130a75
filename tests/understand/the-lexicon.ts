/** The practice's own lexicon and vocabulary, as they stand in flows/. */
import { readFileSync } from 'node:fs';
import { loadContent } from '../../src/server/content.ts';
import { understand, type Understood, type Utterance } from '../../src/understand/understand.ts';
import type { Line } from './score.ts';

const content = loadContent('flows');
if (!content.ok) throw new Error(content.fault.map(({ message }) => message).join(' '));

export const { lexicon } = content.value;
export const { vocabulary } = content.value.library;

export function hear(text: string, given: Partial<Utterance> = {}): Understood {
  const plain = { asked: null, procedure: null, day: null, hour: 10, confidence: 1 };
  return understand(lexicon, vocabulary, { ...plain, ...given, text });
}

export const lines: readonly Line[] = readFileSync('tests/understand/lines/develop.jsonl', 'utf8')
  .split('\n')
  .filter((line) => line.trim() !== '')
  .map((line): Line => JSON.parse(line));
