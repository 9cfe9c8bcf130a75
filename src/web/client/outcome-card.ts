/** What it comes to: what to tell, who takes over, reasons with sources, aftercare, and closing. */
import type { CallView, ResultShape } from '../../desk/contract/call-view.ts';
import { WORDS } from '../words.ts';
import { closeCard } from './close-card.ts';
import { el, type Child } from './element.ts';
import { outcomeBadge, outcomeKind } from './outcome-label.ts';
import type { Sender } from './sender.ts';
import { takeOverCard } from './take-over-card.ts';
import { list } from './urgent-banner.ts';

const W = WORDS.call;

/** An urgent call shows what to tell and who takes over while its last questions are asked; the rest comes at the end. */
export function outcomeCards(view: CallView, sending: Sender): readonly Child[] {
  const { result } = view;
  if (result === null) return [];
  if (view.at === 'asking') return [tellCard(view, result, sending), takeOverCard(view, result, sending)];
  return [
    view.at === 'closed' && closedCard(view),
    tellCard(view, result, sending),
    view.urgent && takeOverCard(view, result, sending),
    view.at === 'outcome' && closeCard(view, sending),
    reasonsCard(view, result),
    aftercareCard(result),
  ];
}

function closedCard(view: CallView): HTMLElement {
  return el(
    'section',
    { class: 'sheet' },
    el('h1', { tabindex: '-1', 'data-focus': true }, W.closed),
    el('p', {}, el('a', { href: `/calls/${view.id}/record` }, W.readRecord)),
  );
}

function tellCard(view: CallView, result: ResultShape, sending: Sender): HTMLElement {
  const over = view.at !== 'asking';
  return el(
    'section',
    { class: `sheet tell ${outcomeKind(result.outcome)}` },
    over && !view.urgent && el('p', {}, outcomeBadge(result.outcome)),
    over && result.about !== null && el('p', {}, `${W.possible}: `, el('strong', {}, result.about)),
    view.cutOff && el('p', { class: 'notice' }, W.cutOff),
    el('p', { class: 'label' }, W.readAloud),
    el('h2', { class: 'title', tabindex: '-1', 'data-focus': view.at === 'outcome' }, W.tellTitle),
    ...result.tell.map((text) => el('p', { class: 'aloud' }, text)),
    view.told === null
      ? view.at !== 'closed' &&
          el(
            'button',
            { type: 'button', class: 'main', click: () => sending.send({ kind: 'tell' }) },
            el('kbd', {}, 'T'),
            W.told,
          )
      : el('p', { class: 'done' }, `${W.toldDone} `, outcomeBadge(view.told)),
  );
}

function reasonsCard(view: CallView, result: ResultShape): HTMLElement {
  return el(
    'section',
    { class: 'sheet' },
    el('h2', {}, W.sources),
    el(
      'ul',
      { class: 'reasons' },
      ...result.reasons.map(({ text, source, to }) =>
        el('li', {}, `${text} `, outcomeBadge(to), el('span', { class: 'hint' }, ` ${W.source}: ${source}`)),
      ),
    ),
    result.concerns !== null && points(result.concerns),
    el('p', { class: 'hint' }, `${W.script}: ${view.script.id} @ ${view.script.hash.slice(0, 12)}`),
  );
}

function points(concerns: NonNullable<ResultShape['concerns']>): HTMLElement {
  return el(
    'div',
    {},
    el('h3', {}, W.points),
    concerns.length === 0
      ? el('p', { class: 'hint' }, W.noPoints)
      : el(
          'dl',
          { class: 'facts' },
          ...concerns.map((one) => el('div', {}, el('dt', {}, one.title), el('dd', {}, String(one.points)))),
        ),
  );
}

function aftercareCard(result: ResultShape): HTMLElement {
  return el(
    'section',
    { class: 'sheet' },
    ...list(W.normal, result.normal),
    el('h2', {}, W.aftercare),
    el(
      'dl',
      { class: 'aftercare' },
      ...result.aftercare.map(({ kind, say, days, source, asked }) =>
        el(
          'div',
          { class: asked ? 'asked' : '' },
          el('dt', {}, `${kindLabel(kind)}${asked ? ` (${W.askedFor})` : ''}`),
          el('dd', {}, say, el('span', { class: 'hint' }, ` ${days}. ${W.source}: ${source}`)),
        ),
      ),
    ),
  );
}

function kindLabel(kind: string): string {
  return Object.entries(WORDS.aftercareKinds).find(([id]) => id === kind)?.[1] ?? kind;
}
