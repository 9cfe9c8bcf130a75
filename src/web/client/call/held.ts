/** The calls that this browser holds open, in the order in which they were opened; a reload keeps them. */
import { keepHere, keptHere } from '../kept-here.ts';
import { makeValue } from '../value.ts';

const NAME = 'held';
const AT_MOST = 9;

function read(): readonly string[] {
  const kept = keptHere(NAME);
  return Array.isArray(kept) ? kept.filter((id) => typeof id === 'string').slice(0, AT_MOST) : [];
}

export const heldCalls = makeValue<readonly string[]>(read());

// Another tab of this browser holds the same calls.
addEventListener('storage', () => heldCalls.set(read()));

export function hold(id: string): void {
  const held = heldCalls.get();
  if (held.includes(id)) return;
  change([...held, id].slice(-AT_MOST));
}

export function letGo(id: string): void {
  change(heldCalls.get().filter((one) => one !== id));
}

function change(ids: readonly string[]): void {
  keepHere(NAME, ids.length === 0 ? null : ids);
  heldCalls.set(ids);
}
