/** Who raised an outcome, by who wrote the event that says so. */
import type { Actor } from './call-store.ts';
import type { RaisedBy } from './circumstances.ts';

/** Whoever has signed in, or sits at the terminal, is a person. */
export function raiserOf(by: Actor): RaisedBy {
  if (by === 'system') return 'program';
  return by === 'line' || by === 'text' ? 'line' : 'nurse';
}
