/** Loads, checks and compiles every flow once; combinations of procedures are compiled when first asked for. */
import { failed, ok, type Result } from '../basics/result.ts';
import type { Vocabulary } from '../clinical/finding.ts';
import type { Diagnostic } from '../content/diagnostic.ts';
import type { TextFile } from '../content/read-folder.ts';
import { checkCases } from './checks/cases.ts';
import { checkChanges } from './checks/changes.ts';
import { checkConcerns } from './checks/concerns.ts';
import { checkEdges } from './checks/edges.ts';
import { checkIds } from './checks/ids.ts';
import { checkQuestions } from './checks/questions.ts';
import { reporter } from './checks/report.ts';
import { checkRules } from './checks/rules.ts';
import { checkSurgeons } from './checks/surgeons.ts';
import { checkVocabulary } from './checks/vocabulary.ts';
import { checkWindows } from './checks/windows.ts';
import type { CompiledFlow } from './compiled.ts';
import { compileFlow, GENERAL } from './compile.ts';
import { readFlowFiles, type FlowFiles } from './files.ts';
import type { SurgeonFile } from './schema.ts';

export interface FlowLibrary {
  readonly vocabulary: Vocabulary;
  readonly files: FlowFiles;
  /** Ids of the procedures that have a flow, without the general one. */
  readonly procedures: readonly string[];
  readonly general: CompiledFlow;
  /** Ids of the surgeons who have rules of their own. */
  readonly surgeons: readonly string[];
  /**
   * The flow of one operation, with the rules of the surgeon who is recorded for it (by name or id; null for none);
   * the general flow where any of its procedures has none.
   */
  readonly flowFor: (procedures: readonly string[], surgeon?: string | null) => CompiledFlow;
  /** A flow that was compiled here, by its hash; null for one of an older version. */
  readonly byHash: (hash: string) => CompiledFlow | null;
}

/** All that is wrong at once, or a whole library. Nothing is half loaded. */
export function loadFlows(texts: readonly TextFile[]): Result<FlowLibrary, readonly Diagnostic[]> {
  const files = readFlowFiles(texts);
  if (!files.ok) return files;
  const problems = checkFiles(files.value);
  return problems.length > 0 ? failed(problems) : ok(libraryOf(files.value));
}

function checkFiles(files: FlowFiles): readonly Diagnostic[] {
  const problems: Diagnostic[] = [];
  const report = reporter(problems);
  checkVocabulary(files, report);
  checkRules(files, report);
  checkQuestions(files, report);
  checkWindows(files, report);
  checkConcerns(files, report);
  checkIds(files, report);
  checkSurgeons(files, report);
  checkChanges(files, report);
  checkCases(files, report);
  checkEdges(files, report);
  return problems;
}

function libraryOf(files: FlowFiles): FlowLibrary {
  const compiled = new Map<string, CompiledFlow>();
  const byHash = new Map<string, CompiledFlow>();
  const flowOf = (procedures: readonly string[], surgeon: SurgeonFile | null): CompiledFlow => {
    const key = `${procedures.join('+')} ${surgeon?.surgeon ?? ''}`;
    const known = compiled.get(key);
    if (known !== undefined) return known;
    const flow = compileFlow(files, procedures, surgeon);
    compiled.set(key, flow);
    byHash.set(flow.hash, flow);
    return flow;
  };
  const surgeonOf = (name: string | null): SurgeonFile | null =>
    [...files.surgeons.values()].find(
      ({ data }) => name !== null && (data.surgeon === name || data.called.includes(name)),
    )?.data ?? null;
  const procedures = [...files.procedures.keys()].filter((id) => id !== GENERAL);
  for (const id of files.procedures.keys()) flowOf([id], null);
  return {
    vocabulary: files.vocabulary,
    files,
    procedures,
    surgeons: [...files.surgeons.keys()],
    general: flowOf([GENERAL], null),
    flowFor: (wanted, surgeon = null) => {
      const sorted = [...new Set(wanted)].toSorted();
      const known = sorted.length > 0 && sorted.every((id) => procedures.includes(id));
      return known ? flowOf(sorted, surgeonOf(surgeon)) : flowOf([GENERAL], null);
    },
    byHash: (hash) => byHash.get(hash) ?? null,
  };
}
