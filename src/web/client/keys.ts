/** Single keys for what the page offers at the moment; never while somebody types or a dialog is open. */

export type Keys = Readonly<Record<string, () => void>>;

let current: Keys = {};

export function setKeys(keys: Keys): void {
  current = keys;
}

export function listenForKeys(): void {
  document.addEventListener('keydown', (event) => {
    if (event.repeat || event.ctrlKey || event.altKey || event.metaKey || isBusy(event.target)) return;
    const action = current[event.key.toLowerCase()];
    if (action === undefined) return;
    event.preventDefault();
    action();
  });
}

function isBusy(target: EventTarget | null): boolean {
  if (document.querySelector('dialog[open]') !== null) return true;
  if (!(target instanceof HTMLElement)) return false;
  const { tagName } = target;
  if (tagName === 'TEXTAREA' || tagName === 'SELECT') return true;
  return target instanceof HTMLInputElement && target.type !== 'checkbox' && target.type !== 'radio';
}
