/** The shape of `flows/phrases/*.yaml`, and how they become the lexicon that openings are read with. */
import { createHash } from 'node:crypto';
import { z } from 'zod';
import { deepFreeze } from '../basics/freeze.ts';
import { canonicalJson } from '../basics/json.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import {
  IMMEDIATE_DANGER,
  UNSURE,
  acceptedValues,
  isValueOf,
  type FindingSpec,
  type FindingValue,
  type Vocabulary,
} from '../clinical/finding.ts';
import { checkShape } from '../content/check-shape.ts';
import type { Diagnostic } from '../content/diagnostic.ts';
import type { TextFile } from '../content/read-folder.ts';
import { readYaml, type YamlSource } from '../content/read-yaml.ts';
import type { Lexicon, LexiconPhrase } from '../understand/lexicon.ts';
import { reporter, type Report } from './checks/report.ts';

const FOLDER = 'phrases/';
const EVERYDAY = 'everyday-questions';

/** Letters, digits, spaces and apostrophes; ` ... ` leaves room for up to five words, never at an end. */
const says = z
  .string()
  .regex(
    /^[\p{L}\p{N}][\p{L}\p{N}'’]*(?: (?:\.\.\. )?[\p{L}\p{N}][\p{L}\p{N}'’]*)*$/u,
    'words as people say them, with " ... " where others may stand between',
  );

export const phrasesSchema = z.strictObject({
  phrases: z.array(
    z.strictObject({
      finding: z.string(),
      value: z.union([z.string(), z.number()]),
      says: z.array(says).min(1),
    }),
  ),
  /** Sayings that hold the words of a phrase and mean something else. */
  idioms: z.exactOptional(z.array(says).min(1)),
});
export type PhrasesFile = z.infer<typeof phrasesSchema>;

export interface CompiledLexicon {
  readonly lexicon: Lexicon;
  /** SHA-256 over the canonical JSON of the lexicon. */
  readonly hash: string;
}

/** The lexicon of all phrase files, or all that is wrong with them. Without any phrase file it holds nothing. */
export function readPhrases(
  files: readonly TextFile[],
  vocabulary: Vocabulary,
): Result<CompiledLexicon, readonly Diagnostic[]> {
  const problems: Diagnostic[] = [];
  const phrases: LexiconPhrase[] = [];
  const idioms: string[] = [];
  for (const file of files.filter(({ below }) => below.startsWith(FOLDER))) {
    const source = readYaml(file.file, file.text);
    const data = source.ok ? checkShape(phrasesSchema, source.value) : source;
    if (!source.ok || !data.ok) {
      problems.push(...(data.ok ? [] : data.fault));
      continue;
    }
    const place = { source: source.value, report: reporter(problems) };
    phrases.push(...data.value.phrases.flatMap((row, at) => toPhrases(vocabulary, row, { ...place, at })));
    idioms.push(...(data.value.idioms ?? []));
  }
  return problems.length > 0 ? failed(problems) : ok(compiled({ format: 1, phrases, idioms }));
}

function compiled(lexicon: Lexicon): CompiledLexicon {
  const hash = createHash('sha256').update(canonicalJson(lexicon)).digest('hex');
  return { lexicon: deepFreeze(lexicon), hash };
}

interface Place {
  readonly source: YamlSource;
  readonly report: Report;
  readonly at: number;
}

function toPhrases(
  vocabulary: Vocabulary,
  row: PhrasesFile['phrases'][number],
  { source, report, at }: Place,
): readonly LexiconPhrase[] {
  const spec = vocabulary.findings[row.finding];
  if (spec === undefined) {
    report(
      'unknown-finding',
      { source, path: ['phrases', at, 'finding'] },
      `"${row.finding}" is no finding; an id of findings.yaml is accepted.`,
    );
    return [];
  }
  // Words state something or nothing; "I don't know" is an answer to a question, never a reading of words.
  if (row.value === UNSURE || !isValueOf(spec, row.value)) {
    report(
      'unknown-value',
      { source, path: ['phrases', at, 'value'] },
      `${row.finding}: "${row.value}" is nothing that words can state; another of these is accepted: ${acceptedValues(spec)}.`,
    );
    return [];
  }
  const rank = rankOf(spec, row.value);
  const deniedBy = deniedByOf(spec);
  return row.says.map((words) => ({ finding: spec.id, value: row.value, says: words, rank, deniedBy }));
}

function deniedByOf({ group }: FindingSpec): LexiconPhrase['deniedBy'] {
  if (group === IMMEDIATE_DANGER) return 'adjacent';
  return group === EVERYDAY ? 'nothing' : 'nearby';
}

/** Higher is worse. Where neither way is worse, what was said first counts. */
function rankOf(spec: FindingSpec, value: FindingValue): number {
  if (spec.worse === 'neither') return 0;
  if (typeof value === 'number') return spec.worse === 'down' ? -value : value;
  const at = spec.values.indexOf(value);
  return spec.worse === 'no' ? -at : at;
}
