/** Reads what is typed as an answer: the number of a choice, its words, yes or no, or a value with or without unit. */
import type { HeardByFlow } from '../call/hear.ts';
import {
  UNSURE,
  isValueOf,
  type FindingId,
  type FindingSpec,
  type FindingValue,
} from '../clinical/finding.ts';
import { readTemperature } from '../clinical/temperature.ts';
import type { Question } from '../flow/compiled.ts';

const YES = new Set([
  'y',
  'yes',
  'yeah',
  'yep',
  'aye',
  'yes please',
  'a bit',
  'a little',
  'not really',
  'sort of',
]);
const NO = new Set(['n', 'no', 'nope', 'nah', 'none', 'no none', 'none of those', 'not at all', 'nothing']);
const NOT_KNOWN = new Set([
  'u',
  '?',
  'unsure',
  'not sure',
  "don't know",
  'dont know',
  "i don't know",
  'i dont know',
  'no idea',
]);

/** Reads words as an answer to the question that was asked. */
export type Listen = (asked: readonly FindingId[], text: string) => HeardByFlow;

/**
 * Null: it cannot be read as an answer to this question and is asked again; never the reassuring answer. What is neither
 * a number nor a choice is heard like speech.
 */
export function readTyped(
  question: Question,
  spec: FindingSpec | null,
  typed: string,
  listen: Listen,
): FindingValue | null {
  return readKeyed(question, spec, typed) ?? readWords(question, spec, typed, listen);
}

/** Of a group yes opens it, and only a no to all of it is a no; what must be read back is asked again. */
function readWords(
  question: Question,
  spec: FindingSpec | null,
  typed: string,
  listen: Listen,
): FindingValue | null {
  const { findings } = listen(question.findings, typed);
  const heard = findings.filter(({ finding }) => question.findings.includes(finding));
  if (spec !== null) {
    const own = heard.find(({ finding }) => finding === spec.id);
    return own === undefined || (own.readBack && own.value === spec.normal) ? null : own.value;
  }
  if (heard.some(({ value }) => value !== 'no')) return 'yes';
  const isAll = question.findings.length > 0 && heard.length === question.findings.length;
  return isAll && !heard.some(({ readBack }) => readBack) ? 'no' : null;
}

function readKeyed(question: Question, spec: FindingSpec | null, typed: string): FindingValue | null {
  const text = typed
    .trim()
    .toLowerCase()
    .replaceAll('’', "'")
    .replace(/[.!]+$/, '');
  if (NOT_KNOWN.has(text)) return UNSURE;
  if (spec?.kind === 'number') return readNumber(spec, text);
  const picked = question.answers[Number(text) - 1];
  if (/^\d+$/.test(text)) return picked?.value ?? null;
  const named = question.answers.filter(
    ({ value, label }) => String(value) === text || label.toLowerCase() === text,
  );
  if (named.length === 1 && named[0] !== undefined) return named[0].value;
  if (question.answers.some(({ value }) => value === 'yes')) {
    if (YES.has(text) || text.startsWith('yes ')) return 'yes';
    if (NO.has(text)) return 'no';
    return null;
  }
  const held = question.answers.filter(
    ({ value, label }) => text.length > 2 && `${label} ${value}`.toLowerCase().includes(text),
  );
  return held.length === 1 && held[0] !== undefined ? held[0].value : null;
}

function readNumber(spec: FindingSpec, text: string): number | null {
  const match = /(-?\d+(?:[.,]\d+)?)\s*([a-z°%/]*)/.exec(text);
  if (match === null) return null;
  const value = Number((match[1] ?? '').replace(',', '.'));
  if (spec.unit !== 'degC') return isValueOf(spec, value) ? value : null;
  const unit = match[2] ?? '';
  const read = readTemperature(value, /^°?f/.test(unit) ? 'F' : /^°?c/.test(unit) ? 'C' : null);
  return read.ok && isValueOf(spec, read.value.celsius) ? read.value.celsius : null;
}
