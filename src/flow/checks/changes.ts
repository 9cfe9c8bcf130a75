/** Checks what a procedure changes of shared questions and rules: they exist, they can be changed so, no alarm gets weaker. */
import { IMMEDIATE_DANGER, type Condition } from '../../clinical/finding.ts';
import { LAST_DAY } from '../../clinical/window.ts';
import type { FlowFiles, Located } from '../files.ts';
import type { ChangeFile, ProcedureFile, QuestionFile, RuleFile } from '../schema.ts';
import type { Report } from './report.ts';

type Code = 'unknown-change' | 'change-effect' | 'weaker-alarm';
type Say = (code: Code, key: keyof ChangeFile, message: string) => void;

export function checkChanges(files: FlowFiles, report: Report): void {
  for (const procedure of files.procedures.values()) {
    const { data, source } = procedure;
    const shared = sharedParts(files, procedure);
    for (const [at, change] of (data.changes ?? []).entries()) {
      const say: Say = (code, key, message) => {
        const path = change[key] === undefined ? ['changes', at] : ['changes', at, key];
        report(code, { source, path }, message);
      };
      if ((change.question === undefined) === (change.rule === undefined)) {
        say(
          'change-effect',
          'because',
          'A change names both or none of question and rule; exactly one is accepted.',
        );
      } else if (change.question !== undefined) checkQuestionChange(shared.questions, change, say);
      else checkRuleChange({ files, rules: shared.rules }, change, say);
    }
  }
}

interface SharedParts {
  readonly questions: readonly QuestionFile[];
  readonly rules: readonly RuleFile[];
}

/** A procedure writes its own questions and rules as it wants them; only those of its topics are changed. */
function sharedParts(files: FlowFiles, { data }: Located<ProcedureFile>): SharedParts {
  const topics = Object.keys(data.topics).flatMap((id) => files.topics.get(id)?.data ?? []);
  return {
    questions: topics.flatMap(({ questions }) => questions),
    rules: topics.flatMap(({ rules }) => rules),
  };
}

function checkQuestionChange(questions: readonly QuestionFile[], change: ChangeFile, say: Say): void {
  const question = questions.find(({ id }) => id === change.question);
  if (question === undefined) {
    say(
      'unknown-change',
      'question',
      `"${String(change.question)}" is no question of its topics; the id of one is accepted.`,
    );
    return;
  }
  if (change.points !== undefined || (change.days === undefined && change.ask === undefined)) {
    say(
      'change-effect',
      'points',
      `The change of question "${question.id}" changes no days and no ask; one of them, and no points, is accepted.`,
    );
  }
  if (question.ask === 'screen') {
    say(
      'weaker-alarm',
      'question',
      `"${question.id}" belongs to the danger screen, which is the same on every day; a question after it is accepted.`,
    );
  }
}

interface Shared {
  readonly files: FlowFiles;
  readonly rules: readonly RuleFile[];
}

function checkRuleChange({ files, rules }: Shared, change: ChangeFile, say: Say): void {
  const rule = rules.find(({ id }) => id === change.rule);
  if (rule === undefined) {
    say(
      'unknown-change',
      'rule',
      `"${String(change.rule)}" is no rule of its topics; the id of one is accepted.`,
    );
    return;
  }
  if (change.ask !== undefined || (change.days === undefined && change.points === undefined)) {
    say(
      'change-effect',
      'ask',
      `The change of rule "${rule.id}" changes no days and no points; one of them, and no ask, is accepted.`,
    );
  }
  checkPoints(rule, change, say);
  checkNarrowing(files, { rule, change }, say);
}

/** Points replace points of the same concern; a red flag or a least outcome never becomes points. */
function checkPoints(rule: RuleFile, change: ChangeFile, say: Say): void {
  if (change.points === undefined) return;
  const [concern, ...more] = Object.keys(rule.points ?? {});
  const named = Object.keys(change.points);
  if (concern !== undefined && more.length === 0 && named.length === 1 && named[0] === concern) return;
  const accepted = concern === undefined ? 'days alone are' : `points of "${concern}" alone are`;
  say(
    'change-effect',
    'points',
    `Points of ${named.map((id) => `"${id}"`).join(', ') || 'nothing'} stand here for rule "${rule.id}"; ${accepted} accepted.`,
  );
}

interface RuleChange {
  readonly rule: RuleFile;
  readonly change: ChangeFile;
}

/**
 * A red flag outside its days still gives a same-day review; only one that says why it is harmless there counts nothing.
 * That reason was written for the shared days and covers no others. Immediate danger has no days at all.
 */
function checkNarrowing(files: FlowFiles, { rule, change }: RuleChange, say: Say): void {
  const flag = rule['red-flag'];
  if (flag === undefined || change.days === undefined) return;
  const [from, to] = rule.days ?? [0, LAST_DAY];
  if (change.days[0] <= from && change.days[1] >= to) return;
  const danger = isImmediateDanger(files, rule.if);
  if (!danger && flag['harmless-outside'] === undefined) return;
  const why = danger ? 'it is an immediate danger' : 'it counts nothing outside them';
  say(
    'weaker-alarm',
    'days',
    `Days ${change.days.join('-')} take days from red flag "${rule.id}" although ${why}; days that hold ${String(from)}-${String(to)} are accepted.`,
  );
}

function isImmediateDanger(files: FlowFiles, condition: Condition): boolean {
  return condition.some((row) =>
    row.every(({ finding }) => files.vocabulary.findings[finding]?.group === IMMEDIATE_DANGER),
  );
}
