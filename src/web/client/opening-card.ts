/** The first field of a call: what the caller says first, in their own words. */
import { WORDS } from '../words.ts';
import { el } from './element.ts';
import type { Sender } from './sender.ts';
import { onEnter } from './text-field.ts';

const W = WORDS.call;

export function openingCard(sending: Sender, pass: () => void): HTMLElement {
  const words = el('textarea', { id: 'opening', rows: '4', 'data-focus': true, maxlength: '4000' });
  const go = (): void => {
    const text = words.value.trim();
    if (text === '') pass();
    else sending.send({ kind: 'opening', text });
  };
  onEnter(words, go);
  return el(
    'form',
    {
      class: 'sheet question',
      submit: (event) => {
        event.preventDefault();
        go();
      },
    },
    el('h2', { class: 'ask' }, el('label', { for: 'opening' }, W.openingTitle)),
    el('p', { class: 'hint' }, W.openingHint),
    words,
    el(
      'div',
      { class: 'row' },
      el('button', { type: 'submit', class: 'main' }, el('kbd', {}, 'Enter'), W.openingSend),
      el('button', { type: 'button', click: pass }, W.openingSkip),
    ),
  );
}
