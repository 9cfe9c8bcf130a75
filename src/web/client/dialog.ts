/** One dialog at a time over the page: a title, what it asks, and what happens on "write it down". */
import { WORDS } from '../words.ts';
import { el, type Child } from './element.ts';

interface Asked {
  readonly title: string;
  readonly hint: string;
  readonly body: readonly Child[];
  readonly submit: string;
  /** False keeps the dialog open. */
  readonly done: () => boolean;
}

export function openDialog({ title, hint, body, submit, done }: Asked): void {
  const dialog = el('dialog', { 'aria-labelledby': 'dialog-title' });
  const close = (): void => {
    dialog.close();
    dialog.remove();
  };
  const send = (event: Event): void => {
    event.preventDefault();
    if (done()) close();
  };
  dialog.append(
    el(
      'form',
      { method: 'dialog', submit: send },
      el('h2', { id: 'dialog-title' }, title),
      hint !== '' && el('p', { class: 'hint' }, hint),
      ...body,
      el(
        'div',
        { class: 'row end' },
        el('button', { type: 'button', click: close }, WORDS.act.cancel),
        el('button', { type: 'submit', class: 'main' }, submit),
      ),
    ),
  );
  dialog.addEventListener('cancel', () => dialog.remove());
  document.body.append(dialog);
  dialog.showModal();
}

/** A labelled field; the label is bound by holding it. */
export function field(label: string, input: HTMLElement): HTMLElement {
  return el('label', { class: 'field' }, el('span', {}, label), input);
}

interface Choice {
  readonly name: string;
  readonly legend: string;
  readonly options: readonly { readonly value: string; readonly label: string }[];
  readonly chosen: string | null;
}

export function radios({ name, legend, options, chosen }: Choice): HTMLFieldSetElement {
  return el(
    'fieldset',
    { class: 'radios' },
    el('legend', {}, legend),
    ...options.map(({ value, label }) =>
      el(
        'label',
        {},
        el('input', { type: 'radio', name, value, checked: value === chosen, required: true }),
        ` ${label}`,
      ),
    ),
  );
}

export function chosenIn(set: Element, name: string): string | null {
  const input = set.querySelector(`input[name="${name}"]:checked`);
  return input instanceof HTMLInputElement ? input.value : null;
}
