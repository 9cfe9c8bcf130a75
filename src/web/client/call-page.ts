/** The page of one call: the question or the outcome in the middle, what is known below, what may be done at the side. */
import type { CallView } from '../../desk/contract/call-view.ts';
import { WORDS } from '../words.ts';
import { acts, actKeys } from './acts.ts';
import { byId, el, fill, type Child } from './element.ts';
import { setKeys, type Keys } from './keys.ts';
import { openingCard } from './opening-card.ts';
import { outcomeCards } from './outcome-card.ts';
import { bornAndAllergies, dayText, operationFacts } from './person.ts';
import { questionCard, questionKeys } from './question-card.ts';
import { sender, type Sender } from './sender.ts';
import { soFar } from './so-far.ts';
import { urgentBanner } from './urgent-banner.ts';

const W = WORDS.call;

export function showCall(id: string): void {
  // The nurse may pass over the first words; they are asked for again after the caller is known.
  const state = { passedOpening: false };
  const show = (view: CallView): void => {
    const draw = (): void => {
      render(view, sending, { isOpening: isOpening(view, state.passedOpening), pass });
    };
    const pass = (): void => {
      state.passedOpening = true;
      draw();
    };
    draw();
  };
  const sending = sender(id, show);
  sending.read();
}

/** Before anything was asked the caller's own first words come first; they may be left empty. */
function isOpening(view: CallView, passed: boolean): boolean {
  const begun = view.answered.some(({ how }) => how !== 'record');
  return view.at === 'asking' && view.opening === null && !begun && !view.urgent && !passed;
}

interface Opening {
  readonly isOpening: boolean;
  readonly pass: () => void;
}

function render(view: CallView, sending: Sender, { isOpening: opening, pass }: Opening): void {
  const openDetails = opened();
  fill(
    byId('main'),
    head(view),
    el(
      'div',
      { class: 'columns' },
      el('div', { class: 'wide' }, ...middle(view, sending, opening ? pass : null), soFar(view, sending)),
      acts(view, sending),
    ),
  );
  reopen(openDetails);
  document.title = view.patient?.name ?? W.notIdentified;
  setKeys(keysOf(view, sending, opening));
  const [focus] = document.querySelectorAll<HTMLElement>('[data-focus]');
  focus?.focus();
}

function middle(view: CallView, sending: Sender, pass: (() => void) | null): readonly Child[] {
  if (pass !== null) return [openingCard(sending, pass)];
  const question = view.question === null ? null : questionCard(view, view.question, sending);
  return [urgentBanner(view), ...outcomeCards(view, sending, question)];
}

function keysOf(view: CallView, sending: Sender, opening: boolean): Keys {
  const question = view.question === null || opening ? {} : questionKeys(view.question, sending);
  return { ...actKeys(view, sending), ...question };
}

function head(view: CallView): HTMLElement {
  const { patient, operation } = view;
  return el(
    'section',
    { class: 'head', 'aria-label': W.script },
    el(
      'div',
      { class: 'patient' },
      el('h1', {}, patient?.name ?? W.notIdentified),
      patient === null ? null : el('span', {}, ...bornAndAllergies(patient)),
    ),
    operation === null
      ? null
      : el(
          'p',
          { class: 'what' },
          el('strong', {}, `${operation.what}, ${view.times.map(dayText).join(' or ')}`),
          ` (${operation.on})`,
        ),
    operation === null ? null : el('details', {}, el('summary', {}, W.fromRecord), operationFacts(operation)),
    el(
      'p',
      { class: 'hint' },
      `${W.script}: ${view.script.title}. ${W.startedAt} ${view.started.shown}. ${W.callBack}: `,
      el('strong', {}, view.callBackNumber ?? W.callBackUnknown),
    ),
  );
}

/** What a nurse had opened stays open when the page is drawn again. */
function opened(): readonly string[] {
  return [...document.querySelectorAll('details[open][id]')].map(({ id }) => id);
}

function reopen(ids: readonly string[]): void {
  for (const id of ids) document.getElementById(id)?.setAttribute('open', '');
}
