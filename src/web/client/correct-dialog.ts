/** Changing an answer: mis-keyed changes it freely; taken back never lowers a danger. */
import type { Answered } from '../../desk/contract/call-view.ts';
import { WORDS } from '../words.ts';
import { chosenIn, field, openDialog, radios } from './dialog.ts';
import { el } from './element.ts';
import type { Sender } from './sender.ts';

const W = WORDS.act;

export type Correction = 'mis-keyed' | 'taken-back';

export function correctionRadios(): HTMLFieldSetElement {
  return radios({
    name: 'correction',
    legend: W.correctHow,
    options: [
      { value: 'mis-keyed', label: W.misKeyed },
      { value: 'taken-back', label: W.takenBack },
    ],
    chosen: null,
  });
}

export function chosenCorrection(set: Element): Correction | null {
  const chosen = chosenIn(set, 'correction');
  return chosen === 'mis-keyed' || chosen === 'taken-back' ? chosen : null;
}

export function correct(one: Answered, sending: Sender): void {
  // What was written down is asked again in its own card; it is never scored.
  if (one.how === 'fact') {
    if (one.question !== null) sending.send({ kind: 'reopen', question: one.question });
    return;
  }
  const values = radios({
    name: 'value',
    legend: one.asked,
    options: one.options.map(({ value, label }) => ({ value: String(value), label })),
    chosen: null,
  });
  if (one.number !== null) for (const input of values.querySelectorAll('input')) input.required = false;
  const number = el('input', { type: 'text', inputmode: 'decimal', autocomplete: 'off' });
  const how = correctionRadios();
  openDialog({
    title: W.correctTitle,
    hint: `${one.asked} ${one.answer}`,
    body: [
      one.number === null ? null : field(WORDS.call.number, number),
      values,
      one.how === 'group' ? null : how,
    ],
    submit: W.send,
    done: () => send(one, { typed: number.value, chosen: chosenIn(values, 'value'), how }, sending),
  });
}

interface Given {
  readonly typed: string;
  readonly chosen: string | null;
  readonly how: HTMLFieldSetElement;
}

function send(one: Answered, { typed, chosen, how }: Given, sending: Sender): boolean {
  const value = readValue(one, typed, chosen);
  const correction = one.how === 'group' ? null : chosenCorrection(how);
  if (value === null || (correction === null && one.how !== 'group')) return false;
  if (one.question !== null) {
    sending.send({ kind: 'answer', question: one.question, value, correction });
  } else if (one.finding !== null) {
    sending.send({ kind: 'volunteer', findings: { [one.finding]: value }, words: null, correction });
  }
  return true;
}

/** A number that was typed, else the answer that was picked; null while there is neither. */
function readValue(one: Answered, typed: string, chosen: string | null): string | number | null {
  const text = typed.trim().replace(',', '.');
  if (one.number !== null && text !== '') return Number.isNaN(Number(text)) ? null : Number(text);
  return chosen;
}
