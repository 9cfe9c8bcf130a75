/** Reads the keys of a telephone as an answer: 1 yes, 2 no, 3 not known; a choice by its number; a number as keyed. */
import { UNSURE, isValueOf, type FindingSpec, type FindingValue } from '../clinical/finding.ts';
import { readTemperature } from '../clinical/temperature.ts';
import type { Question } from '../flow/compiled.ts';

/** Two stars stand for "I don't know" where a number is keyed. */
const NOT_KNOWN_KEYS = '**';

/** A choice in the order in which the line reads it out; "I don't know" comes last. */
export function choicesOf(question: Question): Question['answers'] {
  const known = question.answers.filter(({ value }) => value !== UNSURE);
  const unsure = question.answers.filter(({ value }) => value === UNSURE);
  return [...known, ...unsure];
}

/** Whether its answers are yes and no, whatever words they have. */
export function isYesNo({ kind, answers }: Question): boolean {
  return kind === 'group' || answers.some(({ value }) => value === 'yes');
}

/** Null: no answer to this question; it is asked again and never taken for the reassuring answer. */
export function readKeyed(question: Question, spec: FindingSpec | null, keys: string): FindingValue | null {
  if (spec?.kind === 'number' && question.kind === 'finding') return readNumber(spec, keys);
  if (!/^\d$/.test(keys)) return null;
  if (isYesNo(question)) return { '1': 'yes', '2': 'no', '3': UNSURE }[keys] ?? null;
  const choices = choicesOf(question);
  const chosen = choices[Number(keys) - 1];
  if (chosen !== undefined) return chosen.value;
  return Number(keys) === choices.length + 1 && !choices.some(({ value }) => value === UNSURE)
    ? UNSURE
    : null;
}

/** There is no key for a point: 385 is 38.5 where tenths are counted, and 38 is 38. */
function readNumber(spec: FindingSpec, keys: string): FindingValue | null {
  if (keys === NOT_KNOWN_KEYS) return UNSURE;
  if (!/^\d{1,5}$/.test(keys)) return null;
  const whole = Number(keys);
  if (spec.unit === 'degC') {
    const read = readTemperature(keys.length > 2 && whole > 111 ? whole / 10 : whole, null);
    return read.ok && isValueOf(spec, read.value.celsius) ? read.value.celsius : null;
  }
  return isValueOf(spec, whole) ? whole : null;
}
