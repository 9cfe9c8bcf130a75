/** One promise: what is owed, by whom and by when; overdue is said in words. */
import type { PromiseShape } from '../../desk/contract/promises.ts';
import { WORDS } from '../words.ts';
import { el } from './element.ts';

export function promiseItem(promise: PromiseShape & { readonly patient?: string | null }): HTMLElement {
  const owner = promise.owner === 'desk' ? WORDS.promise.desk : promise.owner;
  const telephone = promise.ownerTelephone === null ? '' : `, ${promise.ownerTelephone}`;
  const who = promise.patient === undefined ? '' : ` ${promise.patient ?? WORDS.home.unknownCaller}.`;
  const due = promise.due === null ? WORDS.promise.noTime : `${WORDS.promise.by} ${promise.due.shown}`;
  const state = promise.state === 'open' ? '' : ` (${WORDS.promiseStates[promise.state]})`;
  return el(
    'li',
    { class: promise.overdue ? 'overdue' : '' },
    el('a', { href: `/calls/${promise.call}` }, WORDS.promiseKinds[promise.kind]),
    `: ${due}, ${owner}${telephone}.${who}${state}`,
    promise.overdue && el('strong', { class: 'flag' }, ` ${WORDS.promise.overdue}`),
  );
}
