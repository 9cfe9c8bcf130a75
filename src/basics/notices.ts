/** Says that something has changed, by id and nothing more: whoever listens reads it again. */

export interface Notices {
  readonly tell: (id: string) => void;
  /** Answers with what ends the listening. */
  readonly listen: (heard: (id: string) => void) => () => void;
}

/** Within this process. */
export function noticesHere(): Notices {
  const listeners = new Set<(id: string) => void>();
  return {
    tell: (id) => {
      for (const heard of listeners) heard(id);
    },
    listen: (heard) => {
      listeners.add(heard);
      return () => listeners.delete(heard);
    },
  };
}
