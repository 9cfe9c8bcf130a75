/** Checks every written question: what it settles exists, its answers fit, a group's members can be opened one by one. */
import { UNSURE } from '../../clinical/finding.ts';
import { GENERAL } from '../compile.ts';
import type { FlowFiles, Located } from '../files.ts';
import type { ProcedureFile, QuestionFile } from '../schema.ts';
import { checkCondition } from './rules.ts';
import type { Report, ReportPlace } from './report.ts';

export function checkQuestions(files: FlowFiles, report: Report): void {
  for (const { data, source } of [...files.topics.values(), ...files.procedures.values()]) {
    for (const [at, question] of data.questions.entries()) {
      checkQuestion(files, question, { source, path: ['questions', at], report });
    }
  }
  for (const procedure of files.procedures.values()) checkGroups(files, procedure, report);
  checkMentions(files, report);
}

/** The few words for being put together are for findings that exist. */
function checkMentions(files: FlowFiles, report: Report): void {
  const { data, source } = files.words;
  for (const id of Object.keys(data.together?.mentions ?? {})) {
    if (files.vocabulary.findings[id] !== undefined) continue;
    const place = { source, path: ['together', 'mentions', id] };
    report('unknown-finding', place, `"${id}" is no finding; an id of findings.yaml is accepted.`);
  }
}

interface Place extends ReportPlace {
  readonly report: Report;
}

function checkQuestion(files: FlowFiles, question: QuestionFile, place: Place): void {
  const given = [question.finding, question.findings, question.fact].filter((one) => one !== undefined);
  if (given.length !== 1) {
    place.report(
      'question-settles',
      place,
      `Question "${question.id}" must settle exactly one of finding, findings, fact.`,
    );
  }
  for (const id of [question.finding, ...(question.findings ?? [])]) {
    if (id === undefined || files.vocabulary.findings[id] !== undefined) continue;
    place.report('unknown-finding', place, `"${id}" is no finding; an id of findings.yaml is accepted.`);
  }
  for (const condition of [question.when, question['skip-if']]) {
    if (condition !== undefined) checkCondition(files, condition, place);
  }
  checkAnswers(files, question, place);
}

function checkAnswers(files: FlowFiles, question: QuestionFile, place: Place): void {
  const spec = question.finding === undefined ? undefined : files.vocabulary.findings[question.finding];
  const accepted = spec === undefined ? ['yes', 'no', UNSURE] : [...spec.values, UNSURE];
  for (const value of Object.keys(question.answers ?? {})) {
    if (accepted.includes(value)) continue;
    place.report(
      'unknown-value',
      place,
      `Question "${question.id}" answers "${value}"; accepted: ${accepted.join(', ')}.`,
    );
  }
}

/** In each procedure every member of a group has a single question of its own to be opened by. */
function checkGroups(files: FlowFiles, procedure: Located<ProcedureFile>, report: Report): void {
  const { data } = procedure;
  const topics = Object.keys(data.topics).flatMap((topic) => files.topics.get(topic) ?? []);
  const questions = [procedure, ...topics].flatMap((file) =>
    file.data.questions.map((question, at) => ({
      question,
      place: { source: file.source, path: ['questions', at] },
    })),
  );
  const singles = new Set(questions.map(({ question }) => question.finding));
  for (const { question, place } of questions) {
    for (const id of question.findings ?? []) {
      const only = files.vocabulary.findings[id]?.only ?? null;
      const belongs = data.procedure === GENERAL || only === null || only.includes(data.procedure);
      if (!belongs || singles.has(id)) continue;
      const message = `Group "${question.id}" opens "${id}", which stands in no other question of ${data.procedure}; a question of its own is accepted.`;
      report('missing-single', place, message);
    }
  }
}
