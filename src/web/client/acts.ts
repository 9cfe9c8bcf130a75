/** What a nurse may do at any moment of a call, and what stands beside it. */
import type { CallView } from '../../desk/contract/call-view.ts';
import { WORDS } from '../words.ts';
import { dangerDialog } from './danger-dialog.ts';
import { chosenIn, field, openDialog, radios } from './dialog.ts';
import { el, type Child } from './element.ts';
import type { Keys } from './keys.ts';
import { isToBeTold } from './outcome-card.ts';
import { confirmLowering, askLowering, raiseOutcome } from './outcome-dialogs.ts';
import { outcomeLabel, outcomeRank } from './outcome-label.ts';
import { promiseItem } from './promise-item.ts';
import type { Sender } from './sender.ts';
import { volunteerDialog } from './volunteer-dialog.ts';

const W = WORDS.act;

export function acts(view: CallView, sending: Sender): HTMLElement {
  return el('aside', { class: 'acts', 'aria-label': W.side }, ...buttons(view, sending), ...beside(view));
}

/** Keys that hold whatever is asked; the question's own keys come on top. */
export function actKeys(view: CallView, sending: Sender): Keys {
  if (view.at === 'closed') return {};
  return {
    d: () => dangerDialog(view, sending),
    v: () => volunteerDialog(view, sending),
    ...(isToBeTold(view) ? { t: () => sending.press({ kind: 'tell' }) } : {}),
  };
}

function buttons(view: CallView, sending: Sender): readonly Child[] {
  if (view.at === 'closed') return [];
  const lowerable = view.result !== null && outcomeRank(view.result.outcome) > 0;
  return [
    act(W.danger, () => dangerDialog(view, sending), { class: 'danger', key: 'D' }),
    act(W.volunteer, () => volunteerDialog(view, sending), { class: '', key: 'V' }),
    act(W.note, () => noteDialog(sending)),
    act(W.raise, () => raiseOutcome(view, sending)),
    !view.cutOff && act(W.hungUp, () => hungUpDialog(sending)),
    lowerable && view.loweringAsked === null && act(W.lower, () => askLowering(view, sending)),
    view.loweringAsked !== null && lowering(view, sending),
  ];
}

interface Look {
  readonly class: string;
  readonly key: string;
}

function act(label: string, click: () => void, look?: Look): HTMLElement {
  return el(
    'button',
    { type: 'button', class: look?.class ?? '', click },
    look === undefined ? null : el('kbd', {}, look.key),
    label,
  );
}

function lowering(view: CallView, sending: Sender): Child {
  const asked = view.loweringAsked;
  if (asked === null) return null;
  return el(
    'div',
    { class: 'notice' },
    el('p', {}, `${W.confirmHint} ${outcomeLabel(asked)}`),
    act(W.confirm, () => confirmLowering(asked, sending)),
  );
}

function beside(view: CallView): readonly Child[] {
  const earlier = view.earlierCalls;
  return [
    el('h2', {}, WORDS.call.earlier),
    earlier === null
      ? el('p', { class: 'hint' }, WORDS.call.earlierLater)
      : earlier.length === 0
        ? el('p', { class: 'hint' }, WORDS.call.noEarlier)
        : el(
            'ul',
            {},
            ...earlier.map(({ hoursAgo, outcome, about }) =>
              el(
                'li',
                {},
                `${hoursAgo} ${WORDS.call.hoursAgo}: ${WORDS.outcomeNames[outcome]}${about === null ? '' : `, ${about}`}`,
              ),
            ),
          ),
    view.promises.length > 0 && el('h2', {}, WORDS.call.promises),
    view.promises.length > 0 && el('ul', {}, ...view.promises.map(promiseItem)),
    el('h2', {}, WORDS.call.reach),
    el('p', { class: 'hint' }, view.reachClinician),
  ];
}

function noteDialog(sending: Sender): void {
  const area = el('textarea', { rows: '4', maxlength: '4000', required: true });
  openDialog({
    title: W.noteTitle,
    hint: '',
    body: [field(W.note, area)],
    submit: W.send,
    done: () => {
      const text = area.value.trim();
      if (text === '') return false;
      sending.send({ kind: 'note', text });
      return true;
    },
  });
}

function hungUpDialog(sending: Sender): void {
  const how = radios({
    name: 'how',
    legend: W.hungUpHint,
    options: [
      { value: 'hung-up', label: W.hungUpYes },
      { value: 'stopped', label: W.stopped },
    ],
    chosen: 'hung-up',
  });
  openDialog({
    title: W.hungUpTitle,
    hint: '',
    body: [how],
    submit: W.send,
    done: () => {
      sending.send({ kind: 'cut-off', how: chosenIn(how, 'how') === 'stopped' ? 'stopped' : 'hung-up' });
      return true;
    },
  });
}
