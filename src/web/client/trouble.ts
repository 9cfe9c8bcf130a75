/** Says what went wrong, whom to ring meanwhile, and offers to send the very same thing again. */
import type { FaultShape } from '../../desk/contract/common.ts';
import { WORDS } from '../words.ts';
import { byId, el, fill } from './element.ts';

export function clearTrouble(): void {
  fill(byId('trouble'));
}

/** `retry` is offered when sending again may help; null where the message is the answer. */
export function showTrouble(fault: FaultShape | null, retry: (() => void) | null): void {
  const box = el('div', { class: 'trouble', role: 'alert', tabindex: '-1' });
  box.append(el('p', { class: 'what' }, fault?.fault.message ?? WORDS.trouble.network));
  const serious = fault === null || retry !== null;
  if (serious) box.append(el('p', {}, ringText(fault)));
  if (retry !== null) {
    const again = (): void => {
      clearTrouble();
      retry();
    };
    box.append(el('button', { type: 'button', click: again }, WORDS.trouble.retry));
  }
  fill(byId('trouble'), box);
  box.focus();
}

function ringText(fault: FaultShape | null): string {
  const [first] = fault?.ring ?? [];
  const whom = first === undefined ? byId('on-call').textContent : `${first.name}, ${first.shown}`;
  return `${WORDS.trouble.ring} ${whom}`;
}

/** A fault after which sending the same again may succeed. */
export function mayRetry(fault: FaultShape | null): boolean {
  return fault === null || ['store-down', 'stale', 'defect'].includes(fault.fault.code);
}
