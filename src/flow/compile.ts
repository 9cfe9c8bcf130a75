/** Compiles the files of one or several procedures of one operation into a frozen flow with its content hash. */
import { createHash } from 'node:crypto';
import type { FlowHash } from '../basics/ids.ts';
import { canonicalForm, canonicalJson } from '../basics/json.ts';
import { findingsIn } from '../clinical/condition.ts';
import type { Condition, FindingId, FindingSpec, Vocabulary } from '../clinical/finding.ts';
import { SAME_DAY } from '../clinical/outcome.ts';
import {
  FLOW_FORMAT,
  TIERS,
  type CommonWords,
  type CompiledFlow,
  type Concern,
  type Flow,
  type Question,
  type Rule,
} from './compiled.ts';
import type { FlowFiles } from './files.ts';
import { lawRules } from './law.ts';
import { merge } from './merge.ts';
import { news2Concern, news2Rules } from './news2-rules.ts';
import { toThreshold, toWords } from './parts.ts';
import { partsOf } from './procedure-parts.ts';
import type { SurgeonFile, WordsFile } from './schema.ts';
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
  const shared = sharedOf(files);
  const findings = applicable(shared.vocabulary, procedures);
  const parts = chosen.map((file) => partsOf(files, file));
  const written = merge(parts.map((part) => part.written));
  const own = surgeonParts(surgeon);
  const covered = merge(parts.map((part) => part.covered));
  const rules = keepKnown([...written.rules, ...own.rules, ...covered.rules, ...shared.news2], findings);
  const flow: Flow = {
    format: FLOW_FORMAT,
    id: procedures.join('+'),
    title: chosen.map(({ title }) => title).join(' with '),
    procedures,
    surgeon: own.name,
    floor: chosen.some((file) => file['never-advise'] === true) ? SAME_DAY : null,
    findings,
    questions: withTogether(inOrder(written.questions, findings), files.words.data).map(shared.once),
    rules: [...rules, ...lawRules(Object.values(findings), rules, files.words.data.law)].map(shared.once),
    concerns: own.thresholds(concernsOf(files, findings)).map(shared.once),
    aftercare: chosen
      .flatMap((file) => own.aftercare(file.procedure, aftercareOf(file.procedure, file.aftercare)))
      .map(shared.once),
    safetyNet: written.safetyNet,
    normal: written.normal,
    words: shared.words,
  };
  return freezeFlow(flow);
}

/** Freezes a flow and gives it the hash of its canonical JSON. */
export function freezeFlow(flow: Flow): CompiledFlow {
  const form = canonicalForm(flow);
  return Object.freeze({ flow: form, hash: hashOf(canonicalJson(form)) as FlowHash });
}

function hashOf(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}

interface Shared {
  readonly vocabulary: Vocabulary;
  readonly words: CommonWords;
  readonly news2: readonly Rule[];
  /** The one object that stands for everything with the same content. */
  readonly once: <TPart extends object>(part: TPart) => TPart;
}

const shared = new WeakMap<FlowFiles, Shared>();

/** What every flow of the same files holds alike. */
function sharedOf(files: FlowFiles): Shared {
  const known = shared.get(files);
  if (known !== undefined) return known;
  const now: Shared = {
    vocabulary: canonicalForm(files.vocabulary),
    words: canonicalForm(toWords(files.words.data)),
    news2: canonicalForm(news2Rules(files.words.data.news2)),
    once: onePerContent(),
  };
  shared.set(files, now);
  return now;
}

function onePerContent(): Shared['once'] {
  const byText = new Map<string, object>();
  return <TPart extends object>(part: TPart): TPart => {
    const text = canonicalJson(part);
    const known = byText.get(text) ?? canonicalForm(part);
    byText.set(text, known);
    return known as TPart;
  };
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
    if (rows.length === rule.if.length) return [rule];
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
    const isWhole = own.length === question.findings.length && when?.length === question.when?.length;
    return [isWhole ? question : { ...question, findings: own, when }];
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
