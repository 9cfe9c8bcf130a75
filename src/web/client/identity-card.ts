/** Two identifiers from the caller before anything from the record is used: compare, or find the patient first. */
import type { CallView, QuestionShape } from '../../desk/contract/call-view.ts';
import { WORDS } from '../words.ts';
import { el } from './element.ts';
import { findBox } from './find-box.ts';
import type { Sender } from './sender.ts';
import { onEnter } from './text-field.ts';

const W = WORDS.call;

export function identityCard(view: CallView, question: QuestionShape, sending: Sender): HTMLElement {
  return el(
    'div',
    { class: 'answers' },
    view.patient === null
      ? find(W.identityFind, sending)
      : el(
          'div',
          {},
          compare(view.patient, question, sending),
          el('details', { id: 'else' }, el('summary', {}, W.identityElse), find(W.identityFind, sending)),
        ),
    otherwise(question, sending),
  );
}

/** Choosing again corrects the patient; the call goes on with the script of that operation. */
function find(label: string, sending: Sender): HTMLElement {
  return findBox({
    label,
    choose: W.identityUse,
    chosen: ({ patient, operation }) =>
      sending.send({
        kind: 'identify',
        patientId: patient.id,
        operationId: operation.id,
        statedDates: [],
      }),
  });
}

/** Shown to the nurse to compare with; the caller says it first. */
function compare(
  patient: NonNullable<CallView['patient']>,
  question: QuestionShape,
  sending: Sender,
): HTMLElement {
  return el(
    'div',
    { class: 'card' },
    el('p', {}, el('strong', {}, patient.name), `, ${WORDS.person.born} ${patient.bornShown}`),
    el('p', { class: 'hint' }, W.readBack),
    el(
      'button',
      {
        type: 'button',
        class: 'main',
        'data-focus': true,
        click: () => sending.press({ kind: 'fact', question: question.id, text: W.identityDone }),
      },
      W.identityMatch,
    ),
  );
}

function otherwise(question: QuestionShape, sending: Sender): HTMLElement {
  const area = el('textarea', { id: 'identity', rows: '2', maxlength: '4000' });
  const send = (): void => {
    const text = area.value.trim();
    if (text === '') area.focus();
    else sending.send({ kind: 'fact', question: question.id, text });
  };
  onEnter(area, send);
  return el(
    'form',
    {
      submit: (event) => {
        event.preventDefault();
        send();
      },
    },
    el('label', { class: 'field', for: 'identity' }, W.identityOther),
    area,
    el('button', { type: 'submit' }, W.next),
  );
}
