/** Scores a labelled set of what callers said against what was understood. */
import type { FindingValue, Vocabulary } from '../../src/clinical/finding.ts';
import type { Lexicon } from '../../src/understand/lexicon.ts';
import { isReassuring } from '../../src/understand/read-aloud-policy.ts';
import { understand, type Understood } from '../../src/understand/understand.ts';

export interface Line {
  readonly id: string;
  readonly kind: 'opening' | 'reply' | 'danger' | 'danger-safe';
  readonly text: string;
  readonly asked: string | readonly string[] | null;
  readonly procedure: string;
  readonly day: number;
  readonly confidence?: number;
  readonly expect: {
    readonly findings: Readonly<Record<string, FindingValue>>;
    readonly danger: boolean;
    readonly confirm?: readonly string[];
    readonly understood?: boolean;
    readonly not?: readonly string[];
  };
}

export interface Scored {
  readonly line: Line;
  readonly got: Understood;
  readonly right: number;
  readonly wrong: readonly string[];
  readonly missed: readonly string[];
  /** A worrying or open answer that was read as the reassuring one and is not read back. */
  readonly falselyCalm: readonly string[];
}

export function scoreLine(lexicon: Lexicon, vocabulary: Vocabulary, line: Line): Scored {
  const got = understand(lexicon, vocabulary, {
    text: line.text,
    asked: line.asked,
    procedure: line.procedure,
    day: line.day,
    hour: 10,
    confidence: line.confidence ?? 1,
  });
  const { findings } = line.expect;
  const matches = (id: string): boolean => got.findings[id] === findings[id];
  const falselyCalm = Object.entries(findings).flatMap(([id, value]) => {
    const spec = vocabulary.findings[id];
    const said = got.findings[id];
    if (spec === undefined || said === undefined || isReassuring(spec, value)) return [];
    return isReassuring(spec, said) && !got.confirm.includes(id) ? [id] : [];
  });
  return {
    line,
    got,
    right: Object.keys(findings).filter(matches).length,
    wrong: Object.keys(got.findings).filter((id) => !matches(id)),
    missed: Object.keys(findings).filter((id) => !matches(id)),
    falselyCalm,
  };
}

export interface Figures {
  readonly dangerRecall: number;
  readonly falseAlarms: number;
  readonly openingPrecision: number;
  readonly openingRecall: number;
  readonly repliesExact: number;
  readonly worryingReadAsCalm: number;
}

/** Shares from 0 to 1. */
export function figuresOf(scored: readonly Scored[]): Figures {
  const of = (kind: Line['kind']): readonly Scored[] => scored.filter(({ line }) => line.kind === kind);
  const dangerous = scored.filter(({ line }) => line.expect.danger);
  const safe = of('danger-safe').filter(({ line }) => !line.expect.danger);
  const openings = of('opening');
  const replies = scored.filter(({ line }) => line.kind === 'reply');
  const right = openings.reduce((sum, one) => sum + one.right, 0);
  const wrong = openings.reduce((sum, one) => sum + one.wrong.length, 0);
  const missed = openings.reduce((sum, one) => sum + one.missed.length, 0);
  const share = (part: readonly unknown[], whole: readonly unknown[]): number => part.length / whole.length;
  return {
    dangerRecall: share(
      dangerous.filter(({ got }) => got.danger),
      dangerous,
    ),
    falseAlarms: share(
      safe.filter(({ got }) => got.danger),
      safe,
    ),
    openingPrecision: right / (right + wrong),
    openingRecall: right / (right + missed),
    repliesExact: share(
      replies.filter((one) => one.wrong.length === 0 && one.missed.length === 0),
      replies,
    ),
    worryingReadAsCalm: share(
      replies.filter(({ falselyCalm }) => falselyCalm.length > 0),
      replies,
    ),
  };
}
