/** What the caller says without being asked, as findings: narrowed by a word, set one by one, sent together. */
import type { CallView } from '../../desk/contract/call-view.ts';
import type { FindingLine, FindingsAnswer } from '../../desk/contract/findings.ts';
import { WORDS } from '../words.ts';
import { get } from './api.ts';
import { chosenCorrection, correctionRadios } from './correct-dialog.ts';
import { field, openDialog } from './dialog.ts';
import { el } from './element.ts';
import type { Sender } from './sender.ts';
import { mayRetry, showTrouble } from './trouble.ts';

const W = WORDS.act;

export function volunteerDialog(view: CallView, sending: Sender): void {
  void get<FindingsAnswer>(`/api/calls/${encodeURIComponent(view.id)}/findings`).then((answer) => {
    if (answer.ok) open(answer.value.findings, sending);
    else showTrouble(answer.fault, mayRetry(answer.fault) ? () => volunteerDialog(view, sending) : null);
  });
}

function open(findings: readonly FindingLine[], sending: Sender): void {
  const filter = el('input', { type: 'search', autocomplete: 'off' });
  const rows = findings.map(row);
  const how = correctionRadios();
  for (const input of how.querySelectorAll('input')) input.required = false;
  const words = el('input', { type: 'text', maxlength: '4000', autocomplete: 'off' });
  filter.addEventListener('input', () => {
    const wanted = filter.value.trim().toLowerCase();
    for (const { text, element, value } of rows) element.hidden = !text.includes(wanted) && value() === null;
  });
  const changes = (): boolean => rows.some((one) => one.held !== null && one.value() !== null);
  const list = el('div', { class: 'findings', tabindex: '0', role: 'group', 'aria-label': W.volunteerTitle });
  list.append(...rows.map(({ element }) => element));
  list.addEventListener('change', () => {
    how.hidden = !changes();
  });
  how.hidden = true;
  openDialog({
    title: W.volunteerTitle,
    hint: W.volunteerHint,
    body: [field(W.filter, filter), list, how, field(W.words, words)],
    submit: W.send,
    done: () => {
      const set = Object.fromEntries(
        rows.flatMap((one) => {
          const value = one.value();
          return value === null ? [] : [[one.id, value]];
        }),
      );
      const correction = changes() ? chosenCorrection(how) : null;
      if (Object.keys(set).length === 0 || (changes() && correction === null)) return false;
      const text = words.value.trim();
      sending.send({ kind: 'volunteer', findings: set, words: text === '' ? null : text, correction });
      return true;
    },
  });
}

interface Row {
  readonly id: string;
  readonly text: string;
  readonly held: string | number | null;
  readonly element: HTMLElement;
  readonly value: () => string | number | null;
}

function row(finding: FindingLine): Row {
  const { id, is, value: held } = finding;
  const heldText =
    held === null ? null : el('span', { class: 'hint' }, ` (${W.saidAlready} ${String(held)})`);
  const input = inputOf(finding);
  return {
    id,
    held,
    text: `${is} ${id}`.toLowerCase(),
    element: el('label', { class: 'finding' }, input.element, el('span', {}, is, heldText)),
    value: input.value,
  };
}

interface Input {
  readonly element: HTMLElement;
  /** Null while nothing is set. */
  readonly value: () => string | number | null;
}

/** A tick where yes is the worse answer, a number where one is measured, else a list to pick from. */
function inputOf(finding: FindingLine): Input {
  if (finding.number !== null) return numberInput(finding.number);
  return finding.tick ? tick() : choice(finding);
}

function tick(): Input {
  const element = el('input', { type: 'checkbox' });
  return { element, value: () => (element.checked ? 'yes' : null) };
}

function choice({ options }: FindingLine): Input {
  const element = el(
    'select',
    {},
    el('option', { value: '' }, ''),
    ...options.map(({ value, label }) => el('option', { value: String(value) }, label)),
  );
  return {
    element,
    value: () => options.find(({ value }) => String(value) === element.value)?.value ?? null,
  };
}

function numberInput({ unit, min, max }: NonNullable<FindingLine['number']>): Input {
  const placeholder = `${min ?? ''}–${max ?? ''} ${unit ?? ''}`;
  const element = el('input', { type: 'text', inputmode: 'decimal', placeholder, autocomplete: 'off' });
  return { element, value: () => typedNumber(element.value) };
}

function typedNumber(text: string): number | null {
  const typed = text.trim().replace(',', '.');
  return typed === '' || Number.isNaN(Number(typed)) ? null : Number(typed);
}
