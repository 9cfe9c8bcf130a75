/** The immediate dangers at one press: what is ticked counts at once, whatever question is open. */
import type { CallView, Danger } from '../../desk/contract/call-view.ts';
import { WORDS } from '../words.ts';
import { field, openDialog } from './dialog.ts';
import { el } from './element.ts';
import type { Sender } from './sender.ts';

const W = WORDS.act;

export function dangerDialog(view: CallView, sending: Sender): void {
  const rows = view.dangers.map(row);
  const words = el('input', { type: 'text', maxlength: '4000', autocomplete: 'off' });
  openDialog({
    title: W.dangerTitle,
    hint: W.dangerHint,
    body: [el('div', { class: 'dangers' }, ...rows.map(({ element }) => element)), field(W.words, words)],
    submit: W.send,
    done: () => {
      const findings = Object.fromEntries(
        rows.flatMap(({ id, value }) => {
          const chosen = value();
          return chosen === '' ? [] : [[id, chosen]];
        }),
      );
      if (Object.keys(findings).length === 0) return false;
      const text = words.value.trim();
      sending.send({ kind: 'volunteer', findings, words: text === '' ? null : text, correction: null });
      return true;
    },
  });
}

interface Row {
  readonly id: string;
  readonly element: HTMLElement;
  readonly value: () => string;
}

/** Yes or not known; a danger that is held already cannot be unticked here. */
function row({ finding, is, value }: Danger): Row {
  const choice = el(
    'select',
    { 'aria-label': is },
    el('option', { value: '' }, ''),
    el('option', { value: 'yes' }, W.yes),
    el('option', { value: 'unsure' }, W.notKnown),
  );
  const held = value === null ? null : el('span', { class: 'hint' }, ` (${W.saidAlready} ${String(value)})`);
  const element = el('div', { class: 'danger-row' }, choice, el('span', {}, is, held));
  return { id: finding, element, value: () => choice.value };
}
