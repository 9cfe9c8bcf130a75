/** Compiles the files of one or several procedures of one operation into a frozen flow with its content hash. */
import { createHash } from 'node:crypto';
import { deepFreeze } from '../basics/freeze.ts';
import type { FlowHash } from '../basics/ids.ts';
import { canonicalJson } from '../basics/json.ts';
import { findingsIn } from '../clinical/condition.ts';
import type { Condition, FindingId, FindingSpec, Vocabulary } from '../clinical/finding.ts';
import { SAME_DAY } from '../clinical/outcome.ts';
import {
  TIERS,
  type CompiledFlow,
  type Concern,
  type DayText,
  type Flow,
  type Question,
  type Rule,
} from './compiled.ts';
import type { FlowFiles } from './files.ts';
import { lawRules, stillCoveredRules } from './law.ts';
import { merge } from './merge.ts';
import { news2Concern, news2Rules } from './news2-rules.ts';
import { toQuestion, toRule, toThreshold, toWords } from './parts.ts';
import type { ChangeFile, ProcedureFile, SurgeonFile, WordsFile } from './schema.ts';
import { surgeonParts } from './surgeon.ts';
import { aftercareOf } from './aftercare.ts';
import { togetherQuestions } from './together.ts';

export const GENERAL = 'general';

/** The procedures must exist in the files; throws otherwise (the checks run first). */
export function compileFlow(
  files: FlowFiles,
  procedures: readonly string[],
  surgeon: SurgeonFile | null = null,
): CompiledFlow {
  const chosen = procedures.map((id) => {
    const file = files.procedures.get(id);
    if (file === undefined) throw new Error(`No such procedure: ${id}`);
    return file.data;
  });
  const findings = applicable(files.vocabulary, procedures);
  const written = merge(chosen.map((file) => partsOf(files, file)));
  const own = surgeonParts(surgeon);
  const rules = keepKnown(
    [
      ...written.rules,
      ...own.rules,
      ...merge(chosen.map((file) => coveredPart(files, file))).rules,
      ...news2Rules(files.words.data.news2),
    ],
    findings,
  );
  const flow: Flow = {
    format: 1,
    id: procedures.join('+'),
    title: chosen.map(({ title }) => title).join(' with '),
    procedures,
    surgeon: own.name,
    floor: chosen.some((file) => file['never-advise'] === true) ? SAME_DAY : null,
    findings,
    questions: withTogether(inOrder(written.questions, findings), files.words.data),
    rules: [...rules, ...lawRules(Object.values(findings), rules, files.words.data.law)],
    concerns: own.thresholds(concernsOf(files, findings)),
    aftercare: chosen.flatMap((file) =>
      own.aftercare(file.procedure, aftercareOf(file.procedure, file.aftercare)),
    ),
    safetyNet: written.safetyNet,
    normal: written.normal,
    words: toWords(files.words.data),
  };
  return freezeFlow(flow);
}

/** Freezes a flow and gives it the hash of its canonical JSON. */
export function freezeFlow(flow: Flow): CompiledFlow {
  const text = canonicalJson(flow);
  return deepFreeze({ flow: JSON.parse(text) as Flow, hash: hashOf(text) as FlowHash });
}

function hashOf(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}

function applicable(
  vocabulary: Vocabulary,
  procedures: readonly string[],
): Readonly<Record<FindingId, FindingSpec>> {
  const general = procedures.includes(GENERAL);
  return Object.fromEntries(
    vocabulary.ids.flatMap((id) => {
      const spec = vocabulary.findings[id];
      if (spec === undefined) return [];
      const belongs = spec.only === null || spec.only.some((only) => procedures.includes(only));
      return general || belongs ? [[id, spec]] : [];
    }),
  );
}

export interface Parts {
  readonly procedure: string;
  readonly questions: readonly Question[];
  readonly rules: readonly Rule[];
  readonly safetyNet: readonly DayText[];
  readonly normal: readonly DayText[];
}

function partsOf(files: FlowFiles, file: ProcedureFile): Parts {
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

function coveredPart(files: FlowFiles, file: ProcedureFile): Parts {
  return {
    procedure: file.procedure,
    questions: [],
    rules: stillCoveredRules(file.covered ?? null, files.words.data.law),
    safetyNet: [],
    normal: [],
  };
}

/** What one procedure changes of shared questions and rules: days, tier and points. */
function changer(changes: readonly ChangeFile[]): {
  readonly question: (question: Question) => Question;
  readonly rule: (rule: Rule) => Rule;
} {
  return {
    question: (question) =>
      changes
        .filter((change) => change.question === question.id)
        .reduce(
          (changed, { days, ask }) => ({
            ...changed,
            ...(days === undefined ? {} : { window: { ...changed.window, days } }),
            ...(ask === undefined ? {} : { tier: ask }),
          }),
          question,
        ),
    rule: (rule) =>
      changes
        .filter((change) => change.rule === rule.id)
        .reduce((changed, { days, points }) => {
          const [concern, value] = Object.entries(points ?? {})[0] ?? [];
          return {
            ...changed,
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

function concernsOf(
  files: FlowFiles,
  findings: Readonly<Record<FindingId, FindingSpec>>,
): readonly Concern[] {
  const { concerns, 'infection-suspected': suspected } = files.concerns.data;
  const written = Object.entries(concerns).map(([id, one]) => ({
    id,
    title: one.title,
    clinicianNeeds: one['clinician-needs'],
    thresholds: one.thresholds.map(toThreshold),
    because: one.because,
    source: one.source,
  }));
  const known = suspected.filter((row) => row.every(({ finding }) => findings[finding] !== undefined));
  return [...written, news2Concern(known, files.words.data.news2)];
}

/** Rows of a condition that mention a finding which this flow does not have drop out; a rule without rows is dropped. */
function keepKnown(
  rules: readonly Rule[],
  findings: Readonly<Record<FindingId, FindingSpec>>,
): readonly Rule[] {
  return rules.flatMap((rule) => {
    const rows = knownRows(rule.if, findings);
    return rows.length === 0 ? [] : [{ ...rule, if: rows }];
  });
}

function knownRows(condition: Condition, findings: Readonly<Record<FindingId, FindingSpec>>): Condition {
  return condition.filter((row) => row.every(({ finding }) => findings[finding] !== undefined));
}

/** What stands for several questions comes before them in its tier. */
function withTogether(questions: readonly Question[], { together }: WordsFile): readonly Question[] {
  if (together === undefined) return questions;
  const made = togetherQuestions(questions, together);
  return TIERS.flatMap((tier) =>
    whatOthersHangOnFirst([...made, ...questions].filter((question) => question.tier === tier)),
  );
}

/** By tier, then as written; members of a group that this flow does not have drop out of it. */
function inOrder(
  questions: readonly Question[],
  findings: Readonly<Record<FindingId, FindingSpec>>,
): readonly Question[] {
  const kept = questions.flatMap((question): readonly Question[] => {
    if (question.kind === 'fact') return [question];
    const own = question.findings.filter((id) => findings[id] !== undefined);
    if (own.length === 0) return [];
    const when = question.when === null ? null : knownRows(question.when, findings);
    if (when !== null && when.length === 0 && findingsIn(question.when ?? []).length > 0) return [];
    return [{ ...question, findings: own, when }];
  });
  return TIERS.flatMap((tier) => whatOthersHangOnFirst(kept.filter((question) => question.tier === tier)));
}

/** A condition can only tell what to leave out when its finding was asked for before. */
function whatOthersHangOnFirst(tier: readonly Question[]): readonly Question[] {
  const hungOn = new Set(
    tier.flatMap(({ when, skipIf }) => findingsIn([...(when ?? []), ...(skipIf ?? [])])),
  );
  const isFirst = ({ when, skipIf, findings }: Question): boolean =>
    when === null && skipIf === null && findings.some((id) => hungOn.has(id));
  return [...tier.filter(isFirst), ...tier.filter((question) => !isFirst(question))];
}
