/** Single keys for what the page offers at the moment; never while somebody types or a dialog is open. */
import { useEffect } from 'react';

export type Keys = Readonly<Record<string, () => void>>;

const layers: { keys: Keys }[] = [];

/** The keys of whoever was shown last come first. */
export function useKeys(keys: Keys): void {
  useEffect(() => {
    const layer = { keys };
    layers.push(layer);
    return () => {
      layers.splice(layers.indexOf(layer), 1);
    };
  });
}

export function listenForKeys(): void {
  // Before any widget sees it, so that a digit picks and does not search a list.
  document.addEventListener('keydown', take, { capture: true });
}

function take(event: KeyboardEvent): void {
  if (event.repeat || event.ctrlKey || event.altKey || event.metaKey || isBusy(event.target)) return;
  if (event.key === 'Enter' && isPressable(event.target)) return;
  const name = event.key.length === 1 ? event.key.toLowerCase() : event.key;
  const action = layers.findLast(({ keys }) => keys[name] !== undefined)?.keys[name];
  if (action === undefined) return;
  event.preventDefault();
  event.stopPropagation();
  action();
}

function isBusy(target: EventTarget | null): boolean {
  if (document.querySelector('dialog[open]') !== null) return true;
  if (!(target instanceof HTMLElement)) return false;
  const { tagName } = target;
  if (tagName === 'TEXTAREA' || tagName === 'SELECT') return true;
  return target instanceof HTMLInputElement && target.type !== 'checkbox' && target.type !== 'radio';
}

/** Enter belongs to the button or link that has the focus. */
function isPressable(target: EventTarget | null): boolean {
  return target instanceof HTMLElement && target.closest('button, a, summary, [role=option]') !== null;
}
