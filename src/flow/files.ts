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
  type WordsFile,
} from './schema.ts';
import { toVocabulary } from './vocabulary.ts';

/** What a file says, with the lines it says it on. */
export interface Located<TData> {
  readonly data: TData;
  readonly source: YamlSource;
}

export interface FlowFiles {
  readonly vocabulary: Vocabulary;
  readonly vocabularySource: YamlSource;
  readonly concerns: Located<ConcernsFile>;
  readonly words: Located<WordsFile>;
  readonly topics: ReadonlyMap<string, Located<TopicFile>>;
  readonly procedures: ReadonlyMap<string, Located<ProcedureFile>>;
  readonly surgeons: ReadonlyMap<string, Located<SurgeonFile>>;
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
  if (!procedures.some(({ data }) => data.procedure === 'general')) {
    problems.push(missing('procedures/general.yaml'));
  }
  if (problems.length > 0 || vocabulary === null || concerns === null || words === null) {
    return failed(problems);
  }
  return ok({
    vocabulary: toVocabulary(vocabulary.data),
    vocabularySource: vocabulary.source,
    concerns,
    words,
    topics: new Map(topics.map((topic) => [topic.data.topic, topic])),
    procedures: new Map(procedures.map((procedure) => [procedure.data.procedure, procedure])),
    surgeons: new Map(surgeons.map((surgeon) => [surgeon.data.surgeon, surgeon])),
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
