/** GET /api/calls/:id/record: the call re-read from its events alone, in the one wording that every record has. */
import { fault } from '../basics/fault.ts';
import { failed, ok } from '../basics/result.ts';
import { readRecord } from '../review/read-record.ts';
import { recordText } from '../review/record-text.ts';
import type { RecordView } from '../review/view.ts';
import type { RecordAnswer } from './contract/record.ts';
import type { Endpoint } from './endpoint.ts';
import { callIdOf } from './read-call.ts';

export const getRecord: Endpoint = async (deps, { id }) => {
  const events = await deps.turn.store.events(callIdOf(id));
  if (!events.ok) return failed(fault('store-down', 'The record cannot be read now.'));
  if (events.value.length === 0) return failed(fault('not-found', 'There is no such call.'));
  return ok(recordAnswer(id, readRecord(events.value)));
};

export function recordAnswer(id: string, view: RecordView): RecordAnswer {
  const [first = '', ...others] = recordText(view, view.header.zone).trimEnd().split('\n\n');
  const [title = '', ...head] = first.split('\n');
  return { id, erased: view.erased, title, head, sections: others.map(section) };
}

/** A title with its lines below it, indented by two spaces and by two more for what belongs to a line. */
function section(block: string): RecordAnswer['sections'][number] {
  const [title = '', ...lines] = block.split('\n');
  return {
    title,
    lines: lines.map((line) => {
      const text = line.trimStart();
      return { text, depth: Math.max(0, Math.floor((line.length - text.length) / 2) - 1) };
    }),
  };
}
