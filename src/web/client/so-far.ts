/** What is known so far: red flags, what stayed unknown, what is still to ask, and every answer with its change. */
import type { Answered, CallView } from '../../desk/contract/call-view.ts';
import { WORDS } from '../words.ts';
import { correct } from './correct-dialog.ts';
import { el } from './element.ts';
import type { Sender } from './sender.ts';

const W = WORDS.call;

export function soFar(view: CallView, sending: Sender): HTMLElement {
  const flags = view.urgent ? [] : view.redFlags.map(({ text }) => text);
  return el(
    'section',
    { class: 'so-far' },
    flags.length > 0 && block('flags', W.redFlags, flags),
    view.unknown.length > 0 && block('unknown', W.unknown, view.unknown),
    view.stillToAsk.length > 0 && still(view),
    el('h2', {}, W.answered),
    view.opening !== null && el('blockquote', {}, view.opening),
    view.answered.length === 0 ? el('p', { class: 'hint' }, W.nothingAnswered) : answered(view, sending),
    view.notes.length > 0 && notes(view),
  );
}

function block(kind: string, title: string, texts: readonly string[]): HTMLElement {
  return el(
    'div',
    { class: kind },
    el('h2', {}, title),
    el('ul', {}, ...texts.map((text) => el('li', {}, text))),
  );
}

function still(view: CallView): HTMLElement {
  return el(
    'details',
    { id: 'still' },
    el('summary', {}, `${W.still}: ${view.stillToAsk.length}`),
    el('ol', {}, ...view.stillToAsk.map((words) => el('li', {}, words))),
  );
}

/** The newest first, so that what was just said stands right below the question. */
function answered(view: CallView, sending: Sender): HTMLElement {
  const items = view.answered.toReversed().map((one) => answeredItem(view, one, sending));
  return el('ol', { class: 'answered', reversed: true }, ...items);
}

function answeredItem(view: CallView, one: Answered, sending: Sender): HTMLElement {
  const said = one.answer === '' ? WORDS.act.notSaid : one.answer;
  return el(
    'li',
    {},
    el('span', { class: 'asked' }, one.asked),
    el('strong', {}, said),
    W.how[one.how] !== '' && el('span', { class: 'hint' }, ` ${W.how[one.how]}`),
    one.takenBackTo !== null &&
      el('em', { class: 'warn' }, ` ${W.takenBack} ${one.takenBackTo}. ${W.goesOnCounting}`),
    view.at !== 'closed' &&
      el(
        'button',
        {
          type: 'button',
          class: 'quiet',
          'aria-label': `${W.change}: ${one.asked}`,
          click: () => correct(one, sending),
        },
        W.change,
      ),
  );
}

function notes(view: CallView): HTMLElement {
  return el(
    'div',
    {},
    el('h2', {}, W.notes),
    el('ul', {}, ...view.notes.map(({ at, text }) => el('li', {}, `${at.shown}: ${text}`))),
  );
}
