/** What is wrong in a content file, as a value: a closed code, the place, and one clear sentence. */

/** Every code a diagnostic can carry; each has a broken fixture in `tests/fixtures`. */
export const DIAGNOSTIC_CODES = [
  'unreadable', // not one YAML 1.2 document: syntax, tabs, tags, directives, encoding, an empty file
  'duplicate-key', // the same key twice in one group
  'alias', // an anchor or an alias: every value is written where it counts
  'wrong-shape', // a value of the wrong kind, outside its limits, or missing
  'unknown-key', // a key that nothing reads
  'unquoted-text', // a telephone number, date, time or hash without quotes
  'unknown-finding', // an id that the vocabulary does not have
  'unknown-value', // a value that the finding cannot take
  'unknown-concern', // a concern that concerns.yaml does not have
  'unknown-topic', // a topic without a file
  'unknown-procedure', // a procedure that the vocabulary does not have, or that has no flow
  'finding-values', // a finding whose values, limits, order, normal or condition do not fit each other
  'rule-effect', // a rule or threshold with no effect or more than one
  'red-flag-everyday', // a red flag on an everyday question
  'question-settles', // a question that settles nothing or several kinds of thing
  'missing-single', // a group member that cannot be asked by itself
  'days-gap', // days of 0-365 for which nothing is said
  'days-overlap', // two windows for the same day
  'no-safety-net', // a topic that scores and names no sign to watch for
  'threshold-order', // thresholds that do not rise
  'two-concerns', // a finding that gives points to two concerns
  'same-id', // two questions or two rules of one flow, or two files, with the same id
  'unknown-change', // a change to a question or rule that the procedure does not have
  'change-effect', // a change of nothing, or of something that it may not change
  'weaker-alarm', // a change that takes days from an alarm which counts nothing outside them
] as const;

export type DiagnosticCode = (typeof DIAGNOSTIC_CODES)[number];

/** The keys and list positions that lead to a value, from the top of the file. */
export type ContentPath = readonly (string | number)[];

export interface Diagnostic {
  readonly code: DiagnosticCode;
  readonly severity: 'error' | 'warning';
  readonly file: string;
  /** Counted from 1. */
  readonly line: number;
  readonly path: ContentPath;
  /** One sentence: what is wrong and what is accepted. */
  readonly message: string;
}

/** `procedures[2].days`, or `the top of the file`. */
export function showPath(path: ContentPath): string {
  if (path.length === 0) return 'the top of the file';
  return path
    .map((step, at) => (typeof step === 'number' ? `[${step}]` : at === 0 ? step : `.${step}`))
    .join('');
}

/** The one line that names file, place and fault, for a terminal or a log. */
export function showDiagnostic(diagnostic: Diagnostic): string {
  return `${diagnostic.file}:${diagnostic.line} ${diagnostic.code}: ${diagnostic.message}`;
}
