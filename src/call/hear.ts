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

export interface HeardFinding {
  readonly finding: FindingId;
  readonly value: FindingValue;
  /** It must be read back, or ticked by whoever listens, before it counts. */
  readonly readBack: boolean;
  /** The words that gave it, each with what decided its scope; none for what follows from the rest. */
  readonly because: readonly Pick<HeardBecause, 'words' | 'scope'>[];
}

export interface HeardByFlow {
  readonly findings: readonly HeardFinding[];
  readonly danger: boolean;
  readonly understood: boolean;
}

/**
 * What the words establish for one flow, to be accepted, changed or dropped one by one: only its findings, with values
 * they can take; everything else stays unknown.
 */
export function hearWords(hearing: Hearing, flow: Flow, said: Omit<Said, 'procedure'>): HeardByFlow {
  const heard = hearing.understand({ ...said, procedure: flow.id });
  const findings = Object.entries(heard.findings).flatMap(([id, value]): readonly HeardFinding[] => {
    const spec = flow.findings[id];
    if (spec === undefined || !isValueOf(spec, value)) return [];
    const because = heard.because
      .filter(({ finding }) => finding === id)
      .map(({ words, scope }) => ({ words, scope }));
    return [{ finding: id, value, readBack: heard.confirm.includes(id), because }];
  });
  return { findings, danger: heard.danger, understood: heard.understood };
}

/**
 * What was said unasked, as it may count at once. An answer that has to be read back first is left unknown, so that it is
 * asked; a worrying one stands as it was said.
 */
export function hear(hearing: Hearing, flow: Flow, text: string): Readonly<Record<FindingId, FindingValue>> {
  const { findings } = hearWords(hearing, flow, { text, asked: null, day: null, confidence: 1 });
  const counts = findings.filter(({ finding, value, readBack }) => {
    return !readBack || (value !== flow.findings[finding]?.normal && value !== UNSURE);
  });
  return Object.fromEntries(counts.map(({ finding, value }) => [finding, value]));
}

/** How an answer is taken next: by voice, by keypad or numbered choices, or by a person. */
export type Reading = 'speech' | 'keypad' | 'person';

/** After so many failed readings of one question (0, 1, 2 ...): two offer the keypad, a third a person (practice rule). */
export function nextReading(failedReadings: number): Reading {
  if (failedReadings < 2) return 'speech';
  return failedReadings === 2 ? 'keypad' : 'person';
}
