/** What one phrase more would change: the demo calls' openings and the labelled lines, read with it and without. */
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { z } from 'zod';
import type { FindingValue } from '../clinical/finding.ts';
import { withPhrase } from '../flow/phrases.ts';
import type { Content } from '../server/content.ts';
import { understand, type Utterance } from '../understand/understand.ts';
import { readCalls } from './read-calls.ts';

export interface NewPhrase {
  readonly says: string;
  readonly finding: string;
  readonly value: FindingValue;
}

const LINES = 'tests/understand/lines/develop.jsonl';
const CALLS = 'demo-calls';
const DAY_IF_UNKNOWN = 0;

const lineSchema = z.object({
  text: z.string(),
  asked: z.union([z.string(), z.array(z.string())]).nullable(),
  procedure: z.string(),
  day: z.number(),
  confidence: z.exactOptional(z.number()),
});

/** One line for each text that is read differently; null: the phrase cannot be added as it stands. */
export function tryPhrase(content: Content, phrase: NewPhrase): readonly string[] | null {
  const { lexicon, library } = content;
  const more = withPhrase(lexicon, library.vocabulary, phrase);
  if (more === null) return null;
  return [...openings(), ...labelled()].flatMap((said) => {
    const before = understand(lexicon, library.vocabulary, said).findings;
    const after = understand(more, library.vocabulary, said).findings;
    const ids = [...new Set([...Object.keys(before), ...Object.keys(after)])];
    const changes = ids
      .filter((id) => before[id] !== after[id])
      .map((id) => `${id}: ${String(before[id] ?? 'unknown')} -> ${String(after[id] ?? 'unknown')}`);
    return changes.length === 0 ? [] : [`${changes.join(', ')}   "${said.text}"`];
  });
}

function openings(): readonly Utterance[] {
  if (!existsSync(CALLS)) return [];
  const files = readdirSync(CALLS).filter((file) => file.endsWith('.yaml'));
  const calls = readCalls(files.map((file) => `${CALLS}/${file}`));
  if (!calls.ok) return [];
  return calls.value.flatMap(({ call: { opening, procedure, day } }) =>
    opening === undefined
      ? []
      : [{ text: opening, asked: null, procedure, day: day ?? DAY_IF_UNKNOWN, hour: null, confidence: 1 }],
  );
}

function labelled(): readonly Utterance[] {
  if (!existsSync(LINES)) return [];
  const lines = readFileSync(LINES, 'utf8').split('\n');
  return lines.flatMap((line) => {
    const read = line.trim() === '' ? null : lineSchema.safeParse(JSON.parse(line));
    if (read?.success !== true) return [];
    return [{ ...read.data, hour: null, confidence: read.data.confidence ?? 1 }];
  });
}
