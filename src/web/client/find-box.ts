/** Finds a patient by telephone number, surname or birth date, and lets one operation be chosen. */
import type { FindAnswer, Found, OperationShape, PatientShape } from '../../desk/contract/people.ts';
import { WORDS } from '../words.ts';
import { get } from './api.ts';
import { el, fill, say } from './element.ts';
import { setKeys } from './keys.ts';
import { dayText, operationFacts, patientLine } from './person.ts';
import { mayRetry, showTrouble } from './trouble.ts';

export interface Chosen {
  readonly patient: PatientShape;
  readonly operation: OperationShape;
}

interface FindBox {
  readonly label: string;
  /** Words on the button of each operation. */
  readonly choose: string;
  readonly chosen: (chosen: Chosen) => void;
}

export function findBox(box: FindBox): HTMLElement {
  const input = el('input', {
    type: 'search',
    name: 'q',
    id: 'find',
    autocomplete: 'off',
    spellcheck: 'false',
  });
  const results = el('div', { class: 'results' });
  const search = (event: Event): void => {
    event.preventDefault();
    void find(box, input.value, results);
  };
  return el(
    'form',
    { class: 'find', submit: search },
    el('label', { for: 'find' }, box.label),
    el('div', { class: 'row' }, input, el('button', { type: 'submit' }, WORDS.home.search)),
    el('p', { class: 'hint' }, WORDS.home.findHint),
    results,
  );
}

async function find(box: FindBox, text: string, results: HTMLElement): Promise<void> {
  if (text.trim() === '') return;
  const answer = await get<FindAnswer>(`/api/find?q=${encodeURIComponent(text)}`);
  if (!answer.ok) {
    showTrouble(answer.fault, mayRetry(answer.fault) ? () => void find(box, text, results) : null);
    return;
  }
  const { understood, found, more } = answer.value;
  const heading = el('h2', { tabindex: '-1' }, WORDS.home.results);
  const keys: Record<string, () => void> = {};
  const cards = found.map((one) => card(box, one, keys));
  const empty = understood ? WORDS.home.nobody : WORDS.home.notUnderstood;
  fill(
    results,
    heading,
    found.length === 0 && el('p', { class: 'notice' }, empty),
    ...cards,
    more && el('p', { class: 'notice' }, WORDS.home.more),
  );
  setKeys(keys);
  say(found.length === 0 ? empty : `${WORDS.home.results}: ${found.length}`);
  heading.focus();
}

function card(box: FindBox, { patient, operations }: Found, keys: Record<string, () => void>): HTMLElement {
  return el(
    'article',
    { class: 'card' },
    patientLine(patient),
    ...operations.map((operation) => {
      const key = String(Object.keys(keys).length + 1);
      const choose = (): void => box.chosen({ patient, operation });
      if (key.length === 1) keys[key] = choose;
      return el(
        'section',
        { class: 'operation' },
        el('h3', {}, `${operation.what}, ${operation.on}. `, el('strong', {}, dayText(operation))),
        operationFacts(operation),
        el(
          'button',
          { type: 'button', class: 'main', click: choose },
          key.length === 1 && el('kbd', {}, key),
          box.choose,
        ),
      );
    }),
  );
}
