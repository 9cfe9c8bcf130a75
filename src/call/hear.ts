/** The only door to understanding: a caller's words in, findings of this flow out. */
import { isValueOf, type FindingId, type FindingValue } from '../clinical/finding.ts';
import type { Flow } from '../flow/compiled.ts';

/** What reads words: given by the composition, which knows the lexicon. */
export interface Hearing {
  readonly lexiconHash: string;
  readonly readOpening: (text: string) => Readonly<Record<FindingId, FindingValue>>;
}

/** Only findings that this flow has, with values they can take; everything else stays unknown. */
export function hear(hearing: Hearing, flow: Flow, text: string): Readonly<Record<FindingId, FindingValue>> {
  return Object.fromEntries(
    Object.entries(hearing.readOpening(text)).filter(([id, value]) => {
      const spec = flow.findings[id];
      return spec !== undefined && isValueOf(spec, value);
    }),
  );
}
