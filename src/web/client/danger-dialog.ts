/** The immediate dangers at one press: what is ticked counts at once, whatever question is open. */
import type { CallView, Danger } from '../../desk/contract/call-view.ts';
import { WORDS } from '../words.ts';
import { field, openDialog } from './dialog.ts';
import { el } from './element.ts';
import type { Sender } from './sender.ts';

const W = WORDS.act;

export function dangerDialog(view: CallView, sending: Sender): void {
  const rows = view.dangers.map(row);
  rows[0]?.element.querySelector('input')?.setAttribute('autofocus', '');
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

/** One tick says yes; the other that nobody can tell. A danger that is held already cannot be unticked here. */
function row({ finding, is, value }: Danger): Row {
  const yes = el('input', { type: 'checkbox' });
  const unknown = el('input', { type: 'checkbox', 'aria-label': `${W.notKnown}: ${is}` });
  yes.addEventListener('change', () => {
    if (yes.checked) unknown.checked = false;
  });
  unknown.addEventListener('change', () => {
    if (unknown.checked) yes.checked = false;
  });
  const held =
    value === null || value === 'no' ? null : el('strong', {}, ` (${W.saidAlready} ${String(value)})`);
  const element = el(
    'div',
    { class: 'danger-row' },
    el('label', {}, yes, el('span', {}, is, held)),
    el('label', { class: 'hint' }, unknown, W.notKnown),
  );
  return { id: finding, element, value: () => (yes.checked ? 'yes' : unknown.checked ? 'unsure' : '') };
}
