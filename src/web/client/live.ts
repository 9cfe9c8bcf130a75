/**
 * Hears which call has changed. One connection a browser: the tab that holds the lock listens to the server and passes
 * it on to the others. A notice says only that something changed; everything is read again on connecting and every
 * half minute, so that a notice that was missed is only late.
 */
import { useEffect } from 'react';
import { every, later } from './browser.ts';

/** The id of a call, or null when anything may have changed. */
type Changed = string | null;

const HALF_MINUTE = 30_000;
const listeners = new Set<(changed: Changed) => void>();
const tabs = new BroadcastChannel('call-desk-live');

/** `changed` is called at once, and whenever something may have changed. */
export function useChanges(changed: (id: Changed) => void): void {
  useEffect(() => {
    listeners.add(changed);
    changed(null);
    return () => {
      listeners.delete(changed);
    };
  }, [changed]);
}

export function listenLive(): void {
  tabs.addEventListener('message', ({ data }) => hear(typeof data === 'string' ? data : null));
  every(HALF_MINUTE, () => hear(null));
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') hear(null);
  });
  // Locks exist only where the page came over https or from this machine; elsewhere each tab listens for itself.
  if ('locks' in navigator) void navigator.locks.request('call-desk-live', listenForAll);
  else void listenForAll();
}

function hear(changed: Changed): void {
  for (const listener of listeners) listener(changed);
}

const AGAIN_MILLIS = 5_000;

/** Held for as long as this tab lives; then the next tab takes over. */
function listenForAll(): Promise<never> {
  connect();
  return new Promise(() => undefined);
}

function connect(): void {
  const source = new EventSource('/api/live');
  const tell = (changed: Changed): void => {
    hear(changed);
    tabs.postMessage(changed);
  };
  source.addEventListener('open', () => tell(null));
  source.addEventListener('changed', ({ data }) => tell(idIn(data)));
  // The browser comes again by itself unless it was refused, as when the session is over.
  source.addEventListener('error', () => {
    if (source.readyState === EventSource.CLOSED) later(AGAIN_MILLIS, connect);
  });
}

function idIn(data: unknown): Changed {
  try {
    const id: unknown = JSON.parse(String(data));
    return typeof id === 'string' ? id : null;
  } catch {
    return null;
  }
}
