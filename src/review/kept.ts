/** What was sealed, read again: the words, that there were none, or that they are erased. */
import type { Recorded } from '../call/recorded.ts';
import type { Kept, Written } from './view.ts';

export const ERASED: Kept = { erased: true };

/** The words of a sealed part; null is that none were given. */
export function kept(from: Pick<Recorded, 'erased'>, said: string | null | undefined): Kept {
  return from.erased ? ERASED : { said: said ?? null };
}

export function written({ seq, at, by }: Recorded): Written {
  return { seq, at, by };
}
