/** Closing: what is still needed, the number to ring back, that the caller has understood, what was agreed. */
import type { CallView } from '../../desk/contract/call-view.ts';
import { WORDS } from '../words.ts';
import { field } from './dialog.ts';
import { el } from './element.ts';
import type { Sender } from './sender.ts';

const W = WORDS.call;

export function closeCard(view: CallView, sending: Sender): HTMLElement {
  const understood = el('input', { type: 'checkbox', id: 'understood' });
  const agreed = el('textarea', { id: 'agreed', rows: '2', maxlength: '4000' });
  const needs = view.closingNeeds.filter((need) => need !== 'understood');
  const close = (event: Event): void => {
    event.preventDefault();
    sending.send({ kind: 'close', understood: understood.checked, agreed: agreed.value.trim() });
  };
  return el(
    'section',
    { class: 'sheet' },
    el('h2', {}, W.closeTitle),
    needs.length > 0 && el('p', {}, W.stillNeeded),
    needs.length > 0 && el('ul', {}, ...needs.map((need) => el('li', {}, WORDS.needs[need]))),
    el(
      'p',
      {},
      `${W.callBack}: `,
      el('strong', {}, view.callBackNumber ?? W.callBackUnknown),
      ' ',
      changeNumber(view, sending),
    ),
    el(
      'form',
      { submit: close },
      el('label', { class: 'tick' }, understood, ` ${W.understood}`),
      field(W.agreed, agreed),
      el('p', { class: 'hint' }, W.agreedHint),
      el('button', { type: 'submit', class: 'main' }, W.close),
    ),
  );
}

function changeNumber(view: CallView, sending: Sender): HTMLElement | null {
  const { callBackQuestion: question } = view;
  if (question === null) return null;
  const change = (): void => sending.send({ kind: 'reopen', question });
  return el('button', { type: 'button', class: 'quiet', click: change }, W.change);
}
