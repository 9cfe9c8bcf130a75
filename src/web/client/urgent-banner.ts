/** Shows that it is urgent as soon as it is, with whom to ring and what to do until they are seen. */
import type { CallView } from '../../desk/contract/call-view.ts';
import type { Contact } from '../../desk/contract/common.ts';
import { WORDS } from '../words.ts';
import { el, type Child } from './element.ts';
import { outcomeKind, outcomeLabel } from './outcome-label.ts';

const W = WORDS.call;

export function urgentBanner(view: CallView): HTMLElement | null {
  const { result } = view;
  if (!view.urgent || result === null) return null;
  return el(
    'section',
    { class: `urgent ${outcomeKind(result.outcome)}`, role: 'alert' },
    el('h2', {}, el('span', { class: 'mark', 'aria-hidden': 'true' }, '!'), outcomeLabel(result.outcome)),
    ...view.redFlags.map(({ text }) => el('p', { class: 'reason' }, text)),
    result.outcome.emergency &&
      el('p', { class: 'ring' }, `${WORDS.call.emergencyFirst} `, el('strong', {}, view.emergency.dial)),
    el('h3', {}, W.ringNow),
    el('ol', { class: 'ring' }, ...result.ringNow.map(contact)),
    ...place(result.seenAt),
    ...list(W.untilSeen, result.untilSeen),
  );
}

function contact({ name, what, shown }: Contact): HTMLElement {
  const rung = Object.entries(WORDS.rungs).find(([id]) => id === what)?.[1] ?? what;
  return el('li', {}, `${name} `, el('strong', {}, shown), el('span', { class: 'hint' }, ` ${rung}`));
}

function place(seenAt: NonNullable<CallView['result']>['seenAt']): readonly Child[] {
  if (seenAt === null) return [];
  return [
    el('h3', {}, W.seenAt),
    el('p', {}, `${seenAt.name}, ${seenAt.address}, `, el('strong', {}, seenAt.shown)),
  ];
}

export function list(title: string, texts: readonly string[]): readonly Child[] {
  if (texts.length === 0) return [];
  return [el('h3', {}, title), el('ul', {}, ...texts.map((text) => el('li', {}, text)))];
}
