/** Handing over: the text to read out, what the clinician will want to know, and who accepted. */
import type { CallView, ResultShape } from '../../desk/contract/call-view.ts';
import { WORDS } from '../words.ts';
import { field } from './dialog.ts';
import { el } from './element.ts';
import type { Sender } from './sender.ts';

const W = WORDS.call;

export function takeOverCard(view: CallView, result: ResultShape, sending: Sender): HTMLElement {
  return el(
    'section',
    { class: 'sheet handover' },
    el('h2', {}, W.handover),
    el(
      'dl',
      { class: 'sbar' },
      ...Object.entries(WORDS.handover).map(([part, label]) =>
        el('div', {}, el('dt', {}, label), el('dd', {}, partOf(result.handover, part))),
      ),
    ),
    result.clinicianNeeds !== null &&
      el('p', { class: 'hint' }, `${W.clinicianNeeds}: ${result.clinicianNeeds}`),
    el('h3', {}, W.acceptTitle),
    view.accepted === null
      ? acceptForm(view, sending)
      : el('p', { class: 'done' }, `${W.acceptedBy} ${view.accepted.clinician}, ${view.accepted.at.shown}`),
  );
}

function partOf(handover: ResultShape['handover'], part: string): string {
  return Object.entries(handover).find(([name]) => name === part)?.[1] ?? '';
}

function acceptForm(view: CallView, sending: Sender): HTMLElement {
  const name = el('input', {
    type: 'text',
    id: 'accepted-by',
    list: 'clinicians',
    autocomplete: 'off',
    maxlength: '120',
    required: true,
  });
  const send = (event: Event): void => {
    event.preventDefault();
    const clinician = name.value.trim();
    if (clinician === '') name.focus();
    else sending.send({ kind: 'accept', clinician });
  };
  return el(
    'form',
    { class: 'row', submit: send },
    field(W.acceptName, name),
    el('datalist', { id: 'clinicians' }, ...view.onCall.map((one) => el('option', { value: one.name }))),
    el('button', { type: 'submit', class: 'main' }, W.accept),
  );
}
