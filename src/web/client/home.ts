/** The first page: find who rings and start, or go on with what is open. */
import type { CallLine, CallsAnswer } from '../../desk/contract/calls.ts';
import type { TurnAnswer } from '../../desk/contract/call-view.ts';
import type { PromisesAnswer } from '../../desk/contract/promises.ts';
import type { StartRequest } from '../../desk/contract/turns.ts';
import { WORDS } from '../words.ts';
import { get, post } from './api.ts';
import { every, newId } from './browser.ts';
import { byId, el, fill } from './element.ts';
import { findBox, type Chosen } from './find-box.ts';
import { outcomeBadge } from './outcome-label.ts';
import { promiseItem } from './promise-item.ts';
import { clearTrouble, mayRetry, showTrouble } from './trouble.ts';

const W = WORDS.home;
const HALF_MINUTE = 30_000;

export function showHome(): void {
  const number = el('input', { type: 'tel', id: 'caller', autocomplete: 'off' });
  const direction = el(
    'select',
    { id: 'direction' },
    ...Object.entries(WORDS.directions).map(([value, label]) => el('option', { value }, label)),
  );
  const begin = starter(() => ({ number: number.value, direction: direction.value }));
  const lists = el('div', { class: 'lists' });
  fill(
    byId('main'),
    el('h1', {}, W.title),
    el(
      'div',
      { class: 'columns' },
      el(
        'div',
        { class: 'wide' },
        el(
          'section',
          { class: 'sheet' },
          el(
            'div',
            { class: 'pair' },
            el(
              'div',
              {},
              el('label', { for: 'caller' }, W.callerNumber),
              number,
              el('p', { class: 'hint' }, W.callerNumberHint),
            ),
            el('div', {}, el('label', { for: 'direction' }, W.direction), direction),
          ),
          findBox({ label: W.find, choose: W.start, chosen: begin }),
          el(
            'div',
            { class: 'now' },
            el('button', { type: 'button', click: () => begin(null) }, W.startNow),
            el('p', { class: 'hint' }, W.startNowHint),
          ),
        ),
      ),
      lists,
    ),
  );
  document.getElementById('find')?.focus();
  void refresh(lists);
  every(HALF_MINUTE, () => void refresh(lists));
}

interface Typed {
  readonly number: string;
  readonly direction: string;
}

/** The same call and token for every try, so that a second press never starts a second call. */
function starter(typed: () => Typed): (chosen: Chosen | null) => void {
  let request: StartRequest | null = null;
  let sending = false;
  const begin = (chosen: Chosen | null): void => {
    if (sending) return;
    sending = true;
    const { number, direction } = typed();
    const wanted = {
      callerNumber: number.trim() === '' ? null : number,
      direction: direction === 'call-back' || direction === 'planned-check' ? direction : 'patient-rang',
      chosen: chosen === null ? null : { patient: chosen.patient.id, operation: chosen.operation.id },
    } as const;
    request = sameAs(request, wanted) ?? { ...wanted, call: newId(), token: newId() };
    void post<TurnAnswer>('/api/calls', request).then((answer) => {
      sending = false;
      if (answer.ok) location.assign(`/calls/${answer.value.view.id}`);
      else showTrouble(answer.fault, mayRetry(answer.fault) ? () => begin(chosen) : null);
    });
    clearTrouble();
  };
  return begin;
}

/** The request that is under way, when nothing about it changed; else it is another call. */
function sameAs(
  request: StartRequest | null,
  wanted: Omit<StartRequest, 'call' | 'token'>,
): StartRequest | null {
  if (request === null) return null;
  const { callerNumber, direction, chosen } = request;
  const same = JSON.stringify({ callerNumber, direction, chosen }) === JSON.stringify(wanted);
  return same ? request : null;
}

async function refresh(lists: HTMLElement): Promise<void> {
  const [calls, promises] = await Promise.all([
    get<CallsAnswer>('/api/calls'),
    get<PromisesAnswer>('/api/promises'),
  ]);
  if (!calls.ok || !promises.ok) {
    const fault = calls.ok ? (promises.ok ? null : promises.fault) : calls.fault;
    showTrouble(fault, () => void refresh(lists));
    return;
  }
  fill(
    lists,
    list(W.promises, W.noPromises, promises.value.promises.map(promiseItem)),
    list(W.openCalls, W.noOpenCalls, calls.value.open.map(callItem)),
    list(W.recent, W.noRecent, calls.value.recent.map(callItem)),
  );
}

function list(title: string, empty: string, items: readonly HTMLElement[]): HTMLElement {
  const body = items.length === 0 ? el('p', { class: 'hint' }, empty) : el('ul', {}, ...items);
  return el('section', { class: 'sheet' }, el('h2', {}, title), body);
}

function callItem(call: CallLine): HTMLElement {
  const open = call.state === 'open';
  const address = open ? `/calls/${call.id}` : `/calls/${call.id}/record`;
  const who = call.patient ?? W.unknownCaller;
  return el(
    'li',
    {},
    el('a', { href: address }, `${who}, ${call.started.shown}`),
    call.operation === null ? null : el('span', { class: 'hint' }, ` ${call.operation}`),
    ' ',
    call.outcome === null ? null : outcomeBadge(call.outcome),
  );
}
