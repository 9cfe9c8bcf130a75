/** The only door to understanding: a caller's words in, findings of this flow out. */
import { isValueOf, type FindingId, type FindingValue } from '../clinical/finding.ts';
import type { Flow } from '../flow/compiled.ts';

/** What was said, to which question, and how surely it was heard: 1 for what was typed, 0 when nobody can say. */
export interface Said {
  readonly text: string;
  readonly asked: readonly FindingId[] | FindingId | null;
  readonly confidence: number;
}

export interface HeardWords {
  readonly findings: Readonly<Record<FindingId, FindingValue>>;
  readonly danger: boolean;
  /** Answers that must be read back before they count. */
  readonly confirm: readonly FindingId[];
  readonly understood: boolean;
}

/** What reads words: given by the composition, which knows the lexicon. */
export interface Hearing {
  readonly lexiconHash: string;
  readonly understand: (said: Said) => HeardWords;
}

/**
 * Only findings that this flow has, with values they can take; everything else stays unknown. An answer that has to be
 * read back first is left unknown too, so that it is asked; a worrying one stands as it was said.
 */
export function hear(hearing: Hearing, flow: Flow, text: string): Readonly<Record<FindingId, FindingValue>> {
  const heard = hearing.understand({ text, asked: null, confidence: 1 });
  return Object.fromEntries(
    Object.entries(heard.findings).filter(([id, value]) => {
      const spec = flow.findings[id];
      if (spec === undefined || !isValueOf(spec, value)) return false;
      return !heard.confirm.includes(id) || (value !== spec.normal && value !== 'unsure');
    }),
  );
}
