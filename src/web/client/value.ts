/** A value that components watch: the least that React needs to follow something outside itself. */
import { useSyncExternalStore } from 'react';

export interface Value<TData> {
  readonly get: () => TData;
  readonly set: (data: TData) => void;
  readonly watch: (seen: () => void) => () => void;
}

export function makeValue<TData>(first: TData): Value<TData> {
  let data = first;
  const watchers = new Set<() => void>();
  return {
    get: () => data,
    set: (next) => {
      data = next;
      for (const seen of watchers) seen();
    },
    watch: (seen) => {
      watchers.add(seen);
      return () => watchers.delete(seen);
    },
  };
}

export function useValue<TData>({ get, watch }: Value<TData>): TData {
  return useSyncExternalStore(watch, get);
}
