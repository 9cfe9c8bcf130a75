/** What one procedure brings to a flow: its own questions, rules and texts and those of its topics, as it changes them. */
import { canonicalForm } from '../basics/json.ts';
import type { DayText, Question, Rule } from './compiled.ts';
import type { FlowFiles } from './files.ts';
import { stillCoveredRules } from './law.ts';
import { toQuestion, toRule } from './parts.ts';
import type { ChangeFile, ProcedureFile } from './schema.ts';

export interface Parts {
  readonly procedure: string;
  readonly questions: readonly Question[];
  readonly rules: readonly Rule[];
  readonly safetyNet: readonly DayText[];
  readonly normal: readonly DayText[];
}

/** Both kinds of parts of a procedure. Points for a wound that is still covered stand behind a surgeon's own rules. */
export interface ProcedureParts {
  readonly written: Parts;
  readonly covered: Parts;
}

const known = new WeakMap<FlowFiles, Map<string, ProcedureParts>>();

/** Made once for the same files, in their canonical form, so that every flow holds the same rules. */
export function partsOf(files: FlowFiles, file: ProcedureFile): ProcedureParts {
  const ofFiles = known.get(files) ?? new Map<string, ProcedureParts>();
  known.set(files, ofFiles);
  const before = ofFiles.get(file.procedure);
  if (before !== undefined) return before;
  const parts = canonicalForm({ written: partsNow(files, file), covered: coveredPart(files, file) });
  ofFiles.set(file.procedure, parts);
  return parts;
}

function partsNow(files: FlowFiles, file: ProcedureFile): Parts {
  const topics = Object.entries(file.topics).flatMap(([id, days]) => {
    const topic = files.topics.get(id);
    return topic === undefined ? [] : [{ topic: topic.data, days }];
  });
  const specs = files.vocabulary.findings;
  const place = { specs, words: files.words.data };
  const change = changer(file.changes ?? []);
  return {
    procedure: file.procedure,
    questions: [
      ...file.questions.map((one) => toQuestion(one, { ...place, topic: file.procedure, days: null })),
      ...topics.flatMap(({ topic, days }) =>
        topic.questions.map((one) => toQuestion(one, { ...place, topic: topic.topic, days })),
      ),
    ].map(change.question),
    rules: [
      ...file.rules.map((one) => toRule(one, file.procedure)),
      ...topics.flatMap(({ topic }) => topic.rules.map((one) => toRule(one, topic.topic))),
    ].map(change.rule),
    safetyNet: [
      ...file['safety-net'].map((text) => toDayText(file.procedure, text)),
      ...topics.flatMap(({ topic }) => topic['safety-net'].map((text) => toDayText(topic.topic, text))),
    ],
    normal: file.normal.map((text) => toDayText(file.procedure, text)),
  };
}

function coveredPart({ words }: FlowFiles, file: ProcedureFile): Parts {
  return {
    procedure: file.procedure,
    questions: [],
    rules: stillCoveredRules(file.covered ?? null, words.data.law),
    safetyNet: [],
    normal: [],
  };
}

/** What one procedure changes of shared questions and rules, days, tier and points, and why: shown with the shared reason. */
function changer(changes: readonly ChangeFile[]): {
  readonly question: (question: Question) => Question;
  readonly rule: (rule: Rule) => Rule;
} {
  return {
    question: (question) =>
      changes
        .filter((change) => change.question === question.id)
        .reduce(
          (changed, { days, ask, because }) => ({
            ...changed,
            why: `${changed.why} ${because}`,
            ...(days === undefined ? {} : { window: { ...changed.window, days } }),
            ...(ask === undefined ? {} : { tier: ask }),
          }),
          question,
        ),
    rule: (rule) =>
      changes
        .filter((change) => change.rule === rule.id)
        .reduce((changed, { days, points, because }) => {
          const [concern, value] = Object.entries(points ?? {})[0] ?? [];
          return {
            ...changed,
            because: `${changed.because} ${because}`,
            ...(days === undefined ? {} : { window: { ...changed.window, days } }),
            ...(concern === undefined || value === undefined
              ? {}
              : { effect: { kind: 'points' as const, concern, points: value } }),
          };
        }, rule),
  };
}

function toDayText(topic: string, text: { days: readonly [number, number]; say: string }): DayText {
  return { topic, window: { days: text.days, hours: null }, say: text.say };
}
