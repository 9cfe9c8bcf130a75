/** The only door to understanding: a caller's words in, findings of this flow out. */
import { UNSURE, isValueOf, type FindingId, type FindingValue } from '../clinical/finding.ts';
import type { Flow } from '../flow/compiled.ts';

/** What was said, to which question, and how surely it was heard. */
export interface Said {
  readonly text: string;
  /** The finding or the group of findings that was asked; null for words that nobody asked for. */
  readonly asked: readonly FindingId[] | FindingId | null;
  readonly procedure: string | null;
  /** Whole days since surgery; null when not known. */
  readonly day: number | null;
  /** 0 to 1: 1 for what was typed or keyed, 0 when the recogniser gives none. */
  readonly confidence: number;
  /** The hour on the caller's clock; left out, what is said by the clock says nothing. */
  readonly hour?: number;
}

export interface HeardBecause {
  readonly finding: FindingId;
  readonly value: FindingValue;
  /** The caller's own words. */
  readonly words: string;
  /** What decided that they count as they do; empty when nothing turned them. */
  readonly scope: readonly string[];
}

export interface HeardWords {
  /** What the words establish, denials too; `unsure` where they leave it open or contradict themselves. */
  readonly findings: Readonly<Record<FindingId, FindingValue>>;
  /** A danger is stated of this patient: it interrupts whatever was asked. */
  readonly danger: boolean;
  /** Answers that must be read back before they count. */
  readonly confirm: readonly FindingId[];
  /** False: nothing in it was understood, and the question is put again. */
  readonly understood: boolean;
  readonly because: readonly HeardBecause[];
}

/** What reads words: given by the composition, which knows the lexicon. */
export interface Hearing {
  readonly lexiconHash: string;
  readonly understand: (said: Said) => HeardWords;
}

/**
 * What was said unasked, read with the words of one flow: only its findings, with values they can take; everything else
 * stays unknown. An answer that has to be read back first is left unknown too, so that it is asked; a worrying one stands
 * as it was said.
 */
export function hear(hearing: Hearing, flow: Flow, text: string): Readonly<Record<FindingId, FindingValue>> {
  const said = { text, asked: null, procedure: flow.id, day: null, confidence: 1 };
  const { findings, confirm } = hearing.understand(said);
  return Object.fromEntries(
    Object.entries(findings).filter(([id, value]) => {
      const spec = flow.findings[id];
      if (spec === undefined || !isValueOf(spec, value)) return false;
      return !confirm.includes(id) || (value !== spec.normal && value !== UNSURE);
    }),
  );
}
