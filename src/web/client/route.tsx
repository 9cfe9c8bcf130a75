/** Which page is shown, by address; a link moves within the page, so that calls held open stay open. */
import type { MouseEvent, ReactNode } from 'react';
import { makeValue, useValue } from './value.ts';

export type Route =
  | { readonly page: 'home' | 'log' | 'nothing' }
  | { readonly page: 'call' | 'record' | 'log-call'; readonly id: string };

const path = makeValue(location.pathname);
addEventListener('popstate', () => path.set(location.pathname));

export function useRoute(): Route {
  return routeOf(useValue(path));
}

function routeOf(pathname: string): Route {
  const [first = '', id = '', third = ''] = pathname.split('/').slice(1).map(decodeURIComponent);
  if (first === '') return { page: 'home' };
  if (first === 'calls' && id !== '') return { page: third === 'record' ? 'record' : 'call', id };
  if (first === 'log') return id === '' ? { page: 'log' } : { page: 'log-call', id };
  return { page: 'nothing' };
}

export function go(to: string): void {
  history.pushState(null, '', to);
  path.set(location.pathname);
  scrollTo(0, 0);
}

export function callPath(id: string): string {
  return `/calls/${encodeURIComponent(id)}`;
}

interface Linking {
  readonly to: string;
  readonly className?: string;
  readonly current?: boolean;
  readonly children: ReactNode;
}

export function Link({ to, className, current = false, children }: Linking) {
  const click = (event: MouseEvent): void => {
    if (event.metaKey || event.ctrlKey || event.shiftKey || event.button !== 0) return;
    event.preventDefault();
    go(to);
  };
  return (
    <a href={to} className={className} aria-current={current ? 'page' : undefined} onClick={click}>
      {children}
    </a>
  );
}
