/** The question of the moment: words to read aloud, the answers with their keys, why, and what "I don't know" means. */
import type { CallView, Option, QuestionShape } from '../../desk/contract/call-view.ts';
import type { DeskInput } from '../../desk/contract/turns.ts';
import { WORDS } from '../words.ts';
import { el, type Child } from './element.ts';
import { identityCard } from './identity-card.ts';
import type { Keys } from './keys.ts';
import type { Sender } from './sender.ts';
import { onEnter } from './text-field.ts';

const W = WORDS.call;
const LETTERS: Readonly<Record<string, string>> = { yes: 'y', no: 'n', unsure: 'u' };

export function questionCard(view: CallView, question: QuestionShape, sending: Sender): HTMLElement {
  return el(
    'section',
    { class: 'sheet question', 'aria-labelledby': 'question', 'data-question': question.id },
    el('p', { class: 'label' }, W.readAloud),
    el(
      'h2',
      { id: 'question', class: 'aloud', tabindex: '-1', 'data-focus': takesKeys(question) },
      question.words,
    ),
    question.again && el('p', { class: 'notice' }, W.again),
    answers(view, question, sending),
    el(
      'dl',
      { class: 'why' },
      ...fact(W.why, [question.why]),
      ...fact(W.unsure, [question.unsureMeans]),
      ...fact(W.meant, question.members),
    ),
    view.mayGoBack &&
      el(
        'button',
        { type: 'button', class: 'quiet', click: () => sending.press({ kind: 'back' }) },
        el('kbd', {}, 'B'),
        W.back,
      ),
  );
}

/** Single keys answer when there are answers to pick from; where something is typed the field has the keys. */
function takesKeys(question: QuestionShape): boolean {
  return question.kind !== 'fact' && question.number === null;
}

function fact(name: string, texts: readonly string[]): readonly Child[] {
  const said = texts.filter((text) => text !== '');
  if (said.length === 0) return [];
  return [el('div', {}, el('dt', {}, name), ...said.map((text) => el('dd', {}, text)))];
}

function answers(view: CallView, question: QuestionShape, sending: Sender): HTMLElement {
  if (question.fact === 'identity') return identityCard(view, question, sending);
  if (question.kind === 'fact') return textAnswer(question, sending);
  if (question.number !== null) return numberAnswer(question, question.number, sending);
  return el(
    'div',
    { class: 'answers' },
    ...question.options.map((option, at) => button(question, { option, at }, sending)),
  );
}

interface Placed {
  readonly option: Option;
  readonly at: number;
}

function button(question: QuestionShape, { option, at }: Placed, sending: Sender): HTMLElement {
  const letter = LETTERS[String(option.value)];
  const key = letter?.toUpperCase() ?? String(at + 1);
  return el(
    'button',
    {
      type: 'button',
      class: option.value === 'unsure' ? 'answer unsure' : 'answer',
      click: () => sending.press(answer(question, option)),
    },
    el('kbd', {}, key),
    option.label,
  );
}

function answer(question: QuestionShape, option: Option): DeskInput {
  return { kind: 'answer', question: question.id, value: option.value, correction: null };
}

/** Digits pick by place, letters pick yes, no and unsure; `b` goes back. */
export function questionKeys(question: QuestionShape, sending: Sender): Keys {
  const keys: Record<string, () => void> = { b: () => sending.press({ kind: 'back' }) };
  if (question.kind === 'fact') return keys;
  for (const [at, option] of question.options.entries()) {
    const send = (): void => sending.press(answer(question, option));
    if (at < 9 && question.number === null) keys[String(at + 1)] = send;
    const letter = LETTERS[String(option.value)];
    if (letter !== undefined) keys[letter] = send;
  }
  return keys;
}

function numberAnswer(
  question: QuestionShape,
  { unit, min, max }: NonNullable<QuestionShape['number']>,
  sending: Sender,
): HTMLElement {
  const input = el('input', {
    id: 'number',
    type: 'text',
    inputmode: 'decimal',
    autocomplete: 'off',
    'data-focus': true,
    'aria-describedby': 'limits',
  });
  const limits = `${min ?? ''} – ${max ?? ''} ${unit ?? ''}`.trim();
  const send = (event: Event): void => {
    event.preventDefault();
    const value = Number(input.value.trim().replace(',', '.'));
    if (input.value.trim() === '' || Number.isNaN(value)) {
      input.setAttribute('aria-invalid', 'true');
      input.focus();
      return;
    }
    sending.send({ kind: 'answer', question: question.id, value, correction: null });
  };
  return el(
    'form',
    { class: 'answers', submit: send, novalidate: true },
    el('label', { class: 'field', for: 'number' }, W.number),
    el('div', { class: 'row' }, input, el('span', { id: 'limits', class: 'hint' }, limits)),
    el('button', { type: 'submit', class: 'main' }, el('kbd', {}, 'Enter'), W.next),
    ...question.options.map((option) =>
      el(
        'button',
        { type: 'button', class: 'answer unsure', click: () => sending.press(answer(question, option)) },
        option.label,
      ),
    ),
  );
}

function textAnswer(question: QuestionShape, sending: Sender): HTMLElement {
  const area = el('textarea', {
    id: 'words',
    rows: question.fact === 'opening' ? '4' : '2',
    maxlength: '4000',
    'data-focus': true,
    'aria-labelledby': 'question',
  });
  const send = (): void => {
    const text = area.value.trim();
    if (text === '') area.focus();
    else sending.send(written(question, text));
  };
  onEnter(area, send);
  return el(
    'form',
    {
      class: 'answers',
      submit: (event) => {
        event.preventDefault();
        send();
      },
    },
    area,
    el('button', { type: 'submit', class: 'main' }, el('kbd', {}, 'Enter'), W.next),
    // A number to ring back is a number; without one the question stays.
    question.fact !== 'call-back-number' &&
      el(
        'button',
        {
          type: 'button',
          class: 'answer unsure',
          click: () => sending.send(written(question, W.notAnswered)),
        },
        W.notAnswered,
      ),
  );
}

/** The caller's own first words are understood as well as kept; other texts are only kept. */
function written(question: QuestionShape, text: string): DeskInput {
  return question.fact === 'opening'
    ? { kind: 'opening', text }
    : { kind: 'fact', question: question.id, text };
}
