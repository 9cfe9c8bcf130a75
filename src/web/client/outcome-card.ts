/** What it comes to: what to tell, who takes over, reasons with sources, aftercare, and closing. */
import type { CallView, ResultShape } from '../../desk/contract/call-view.ts';
import { WORDS } from '../words.ts';
import { closeCard } from './close-card.ts';
import { el, type Child } from './element.ts';
import { outcomeBadge, outcomeKind, outcomeRank } from './outcome-label.ts';
import type { Sender } from './sender.ts';
import { takeOverCard } from './take-over-card.ts';
import { list } from './urgent-banner.ts';

const W = WORDS.call;

/**
 * While questions go on an urgent call shows what to tell, before the question until it was told, and who takes over;
 * everything else comes when the asking is over.
 */
export function outcomeCards(
  view: CallView,
  sending: Sender,
  question: HTMLElement | null,
): readonly Child[] {
  const { result } = view;
  if (result === null) return [question];
  const tell = tellCard(view, result, sending);
  const take = view.urgent && takeOverCard(view, result, sending);
  if (view.at === 'asking') return isToBeTold(view) ? [tell, question, take] : [question, take, tell];
  return [
    view.at === 'closed' && closedCard(view),
    tell,
    take,
    view.at === 'outcome' && closeCard(view, sending),
    reasonsCard(view, result),
    aftercareCard(result),
  ];
}

/** Nothing was said to the caller yet, or it has become worse than what was said. */
export function isToBeTold(view: CallView): boolean {
  if (view.result === null || view.at === 'closed') return false;
  return view.told === null || outcomeRank(view.told) < outcomeRank(view.result.outcome);
}

function closedCard(view: CallView): HTMLElement {
  return el(
    'section',
    { class: 'sheet' },
    el('h2', { tabindex: '-1', 'data-focus': true }, W.closed),
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
    el('h2', { class: 'title', tabindex: '-1', 'data-focus': isToBeTold(view) }, W.tellTitle),
    ...result.tell.map((text) => el('p', { class: 'aloud' }, text)),
    view.told !== null && el('p', { class: 'done' }, `${W.toldDone} `, outcomeBadge(view.told)),
    isToBeTold(view) &&
      el(
        'button',
        { type: 'button', class: 'main', click: () => sending.press({ kind: 'tell' }) },
        el('kbd', {}, 'T'),
        W.told,
      ),
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
          'ul',
          {},
          ...concerns.map((one) => el('li', {}, `${one.title}: `, el('strong', {}, String(one.points)))),
        ),
  );
}

/** What was asked about stands open; the rest of the plan opens at a press. */
function aftercareCard(result: ResultShape): HTMLElement {
  const asked = result.aftercare.filter((one) => one.asked);
  const others = result.aftercare.filter((one) => !one.asked);
  return el(
    'section',
    { class: 'sheet' },
    ...list(W.normal, result.normal),
    asked.length > 0 && el('h2', {}, `${W.aftercare} (${W.askedFor})`),
    asked.length > 0 && aftercare(asked),
    others.length > 0 &&
      el('details', { id: 'aftercare' }, el('summary', {}, W.aftercare), aftercare(others)),
  );
}

function aftercare(items: ResultShape['aftercare']): HTMLElement {
  return el(
    'dl',
    { class: 'aftercare' },
    ...items.map(({ kind, say, days, source, asked }) =>
      el(
        'div',
        { class: asked ? 'asked' : '' },
        el('dt', {}, kindLabel(kind)),
        el('dd', {}, say, el('span', { class: 'hint' }, ` ${days}. ${W.source}: ${source}`)),
      ),
    ),
  );
}

function kindLabel(kind: string): string {
  return Object.entries(WORDS.aftercareKinds).find(([id]) => id === kind)?.[1] ?? kind;
}
