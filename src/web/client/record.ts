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
  fill(
    byId('main'),
    el('h1', {}, WORDS.record.title),
    el(
      'p',
      { class: 'tools' },
      el('button', { type: 'button', click: () => window.print() }, WORDS.record.print),
      el('a', { href: `/calls/${encodeURIComponent(id)}` }, WORDS.record.back),
    ),
    el(
      'ol',
      { class: 'record' },
      ...answer.value.lines.map(({ at, by, what, details }) =>
        el(
          'li',
          {},
          el('span', { class: 'when' }, `${at.shown} ${by}`),
          el('strong', {}, ` ${what}`),
          ...details.map((text) => el('div', {}, text)),
        ),
      ),
    ),
  );
}
