/** Recorded calls of every released version, frozen when that version was released. */
import type { StoredEvent } from '../../src/call/call-store.ts';
import { listFiles, readText } from './project-files.ts';

export interface RecordedCall {
  readonly release: string;
  readonly name: string;
  readonly events: readonly StoredEvent[];
}

const FOLDER = 'tests/fixtures/events';

/** One JSON object a line, as a store hands events out. */
export const RECORDED_CALLS: readonly RecordedCall[] = listFiles(FOLDER, ['.jsonl']).map((path) => {
  const [release = '', file = ''] = path.slice(FOLDER.length + 1).split('/');
  const lines = readText(path).trimEnd().split('\n');
  return {
    release,
    name: file.replace('.jsonl', ''),
    events: lines.map((line) => JSON.parse(line) as StoredEvent),
  };
});

export function recordedCall(name: string, release = '0.1.0'): readonly StoredEvent[] {
  const found = RECORDED_CALLS.find((call) => call.name === name && call.release === release);
  if (found === undefined) throw new Error(`No call "${name}" was recorded of release ${release}`);
  return found.events;
}
