/** Reads every flow file below a folder into checked shapes; a bad file gives diagnostics and nothing is half loaded. */
import { failed, ok, type Result } from '../basics/result.ts';
import type { Vocabulary } from '../clinical/finding.ts';
import { checkShape } from '../content/check-shape.ts';
import type { Diagnostic } from '../content/diagnostic.ts';
import type { TextFile } from '../content/read-folder.ts';
import { readYaml, type YamlSource } from '../content/read-yaml.ts';
import type { z } from 'zod';
import {
  concernsSchema,
  procedureSchema,
  surgeonSchema,
  topicSchema,
  vocabularySchema,
  wordsSchema,
  type ConcernsFile,
  type ProcedureFile,
  type SurgeonFile,
  type TopicFile,
  type VocabularyFile,
  type WordsFile,
} from './schema.ts';
import { edgesSchema, type EdgesFile } from './edges.ts';
import { toVocabulary } from './vocabulary.ts';

/** What a file says, with the lines it says it on. */
export interface Located<TData> {
  readonly data: TData;
  readonly source: YamlSource;
}

export interface FlowFiles {
  readonly vocabulary: Vocabulary;
  /** The vocabulary as it is written. */
  readonly findings: Located<VocabularyFile>;
  readonly concerns: Located<ConcernsFile>;
  readonly words: Located<WordsFile>;
  readonly topics: ReadonlyMap<string, Located<TopicFile>>;
  readonly procedures: ReadonlyMap<string, Located<ProcedureFile>>;
  readonly surgeons: ReadonlyMap<string, Located<SurgeonFile>>;
  /** The second entry that the prover holds the scripts against. */
  readonly edges: readonly Located<EdgesFile>[];
}

/** The files of `flows/` that make flows; others (practice, places, demo, phrases) are read by their own rooms. */
export function readFlowFiles(files: readonly TextFile[]): Result<FlowFiles, readonly Diagnostic[]> {
  const problems: Diagnostic[] = [];
  const read = <TData>(file: TextFile | undefined, schema: z.ZodType<TData>): Located<TData> | null => {
    if (file === undefined) return null;
    const located = readFile(file, schema);
    if (located.ok) return located.value;
    problems.push(...located.fault);
    return null;
  };
  const one = <TData>(below: string, schema: z.ZodType<TData>): Located<TData> | null => {
    const file = files.find((candidate) => candidate.below === below);
    if (file === undefined) problems.push(missing(below));
    return read(file, schema);
  };
  const all = <TData>(folder: string, schema: z.ZodType<TData>): readonly Located<TData>[] =>
    files.filter(({ below }) => below.startsWith(folder)).flatMap((file) => read(file, schema) ?? []);

  const vocabulary = one('findings.yaml', vocabularySchema);
  const concerns = one('concerns.yaml', concernsSchema);
  const words = one('words/en.yaml', wordsSchema);
  const topics = all('topics/', topicSchema);
  const procedures = all('procedures/', procedureSchema);
  const surgeons = all('surgeons/', surgeonSchema);
  const edges = all('edges/', edgesSchema);
  const byId = <TData>(kind: string, files: readonly Located<TData>[], idOf: (data: TData) => string) => {
    const known = new Map<string, Located<TData>>();
    for (const file of files) {
      const id = idOf(file.data);
      const first = known.get(id);
      if (first === undefined) known.set(id, file);
      else problems.push(sameId(kind, { id, file, first }));
    }
    return known;
  };
  const topicsById = byId('topic', topics, ({ topic }) => topic);
  const proceduresById = byId('procedure', procedures, ({ procedure }) => procedure);
  const surgeonsById = byId('surgeon', surgeons, ({ surgeon }) => surgeon);
  if (!procedures.some(({ data }) => data.procedure === 'general')) {
    problems.push(missing('procedures/general.yaml'));
  }
  if (problems.length > 0 || vocabulary === null || concerns === null || words === null) {
    return failed(problems);
  }
  return ok({
    vocabulary: toVocabulary(vocabulary.data),
    findings: vocabulary,
    concerns,
    words,
    topics: topicsById,
    procedures: proceduresById,
    surgeons: surgeonsById,
    edges,
  });
}

function readFile<TData>(
  file: TextFile,
  schema: z.ZodType<TData>,
): Result<Located<TData>, readonly Diagnostic[]> {
  const source = readYaml(file.file, file.text);
  if (!source.ok) return source;
  const data = checkShape(schema, source.value);
  return data.ok ? ok({ data: data.value, source: source.value }) : data;
}

function missing(below: string): Diagnostic {
  return {
    code: 'unreadable',
    severity: 'error',
    file: below,
    line: 1,
    path: [],
    message: `The file ${below} is missing; every practice needs one.`,
  };
}

interface Twice<TData> {
  readonly id: string;
  readonly file: Located<TData>;
  readonly first: Located<TData>;
}

function sameId<TData>(kind: string, { id, file, first }: Twice<TData>): Diagnostic {
  const path = [kind];
  return {
    code: 'same-id',
    severity: 'error',
    file: file.source.file,
    line: file.source.lineOf(path),
    path,
    message: `The ${kind} "${id}" stands in ${first.source.file} as well; an id of its own is accepted.`,
  };
}
