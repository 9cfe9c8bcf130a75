/** Checks every written rule: known findings and values, exactly one effect, a known concern, no alarm on everyday questions. */
import { acceptedValues, isValueOf, type Condition, type FindingSpec } from '../../clinical/finding.ts';
import type { FlowFiles } from '../files.ts';
import type { RuleFile } from '../schema.ts';
import type { Report } from './report.ts';

const EVERYDAY = 'everyday-questions';

export function checkRules(files: FlowFiles, report: Report): void {
  for (const { data, source } of [...files.topics.values(), ...files.procedures.values()]) {
    for (const [at, rule] of data.rules.entries()) {
      checkRule(files, rule, { source, path: ['rules', at], report });
    }
  }
}

/** One rule, wherever it is written. */
export function checkRule(files: FlowFiles, rule: RuleFile, place: ConditionPlace): void {
  const { source, path, report } = place;
  checkCondition(files, rule.if, { ...place, path: [...path, 'if'] });
  checkEffect(files, rule, (code, message, key) =>
    report(code, { source, path: [...path, key ?? 'id'] }, message),
  );
}

export interface ConditionPlace {
  readonly source: Parameters<Report>[1]['source'];
  readonly path: Parameters<Report>[1]['path'];
  readonly report: Report;
}

/** Every finding is known, every value is one of its values, every bound lies on a number. */
export function checkCondition(files: FlowFiles, condition: Condition, place: ConditionPlace): void {
  for (const test of condition.flat()) {
    const spec = files.vocabulary.findings[test.finding];
    if (spec === undefined) {
      place.report(
        'unknown-finding',
        place,
        `"${test.finding}" is no finding; an id of findings.yaml is accepted.`,
      );
      continue;
    }
    const wrong = wrongValue(spec, test);
    if (wrong !== null) {
      place.report(
        'unknown-value',
        place,
        `${test.finding}: "${wrong}" is none of its values; accepted: ${acceptedValues(spec)}.`,
      );
    }
  }
}

function wrongValue(spec: FindingSpec, test: Condition[number][number]): string | null {
  if ('in' in test)
    return (
      test.in
        .map((value) => (isValueOf(spec, value) ? null : String(value)))
        .find((value) => value !== null) ?? null
    );
  const bound = 'atLeast' in test ? test.atLeast : test.atMost;
  return spec.kind === 'number' && isValueOf(spec, bound) ? null : String(bound);
}

type Say = (
  code: 'rule-effect' | 'unknown-concern' | 'red-flag-everyday',
  message: string,
  key?: string,
) => void;

function checkEffect(files: FlowFiles, rule: RuleFile, say: Say): void {
  const kinds = (['points', 'red-flag', 'at-least'] as const).filter((kind) => rule[kind] !== undefined);
  if (kinds.length !== 1) {
    say(
      'rule-effect',
      `Rule "${rule.id}" has ${kinds.length} effects; exactly one of points, red-flag, at-least is accepted.`,
    );
  }
  const concerns = Object.keys(rule.points ?? {});
  if (rule.points !== undefined && concerns.length !== 1) {
    say(
      'rule-effect',
      `Rule "${rule.id}" gives points to ${concerns.length} concerns; one is accepted.`,
      'points',
    );
  }
  const named = [...concerns, rule['red-flag']?.concern, rule['at-least']?.concern];
  for (const concern of named) {
    if (concern === undefined || files.concerns.data.concerns[concern] !== undefined) continue;
    say('unknown-concern', `"${concern}" is no concern; an id of concerns.yaml is accepted.`);
  }
  const everyday = rule.if
    .flat()
    .some(({ finding }) => files.vocabulary.findings[finding]?.group === EVERYDAY);
  if (rule['red-flag'] !== undefined && everyday) {
    say(
      'red-flag-everyday',
      `Rule "${rule.id}" raises a red flag on an everyday question; a clinical finding is accepted.`,
    );
  }
}
