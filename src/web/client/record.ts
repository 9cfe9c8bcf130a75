/** The record of a call, for reading and for print. */
import type { RecordAnswer } from '../../desk/contract/record.ts';
import { WORDS } from '../words.ts';
import { get } from './api.ts';
import { byId, el, fill } from './element.ts';
import { mayRetry, showTrouble } from './trouble.ts';

export function showRecord(id: string): void {
  void read(id);
}

async function read(id: string): Promise<void> {
  const answer = await get<RecordAnswer>(`/api/calls/${encodeURIComponent(id)}/record`);
  if (!answer.ok) {
    showTrouble(answer.fault, mayRetry(answer.fault) ? () => void read(id) : null);
    return;
  }
  const { title, head, sections } = answer.value;
  document.title = title;
  fill(
    byId('main'),
    el('h1', {}, title),
    el(
      'p',
      { class: 'tools' },
      el('button', { type: 'button', click: () => window.print() }, WORDS.record.print),
      el('a', { href: `/calls/${encodeURIComponent(id)}` }, WORDS.record.back),
    ),
    el('ul', { class: 'record-head' }, ...head.map((line) => el('li', {}, line))),
    ...sections.map(section),
  );
}

function section({ title, lines }: RecordAnswer['sections'][number]): HTMLElement {
  return el(
    'section',
    { class: 'sheet record' },
    el('h2', {}, title),
    ...lines.map(({ text, depth }) => el('p', { class: depth === 0 ? 'line' : 'line deep' }, text)),
  );
}
