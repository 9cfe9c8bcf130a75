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
import type { Frame, Lexicon, LexiconPhrase, ReplySense, ScopeSense } from '../understand/lexicon.ts';
import { reporter, type Report } from './checks/report.ts';

const FOLDER = 'phrases/';
const EVERYDAY = 'everyday-questions';

/**
 * Letters, digits, spaces and apostrophes; ` ... ` leaves room for up to five words, never at an end; `@name` is any
 * word of a class; ` & ` joins two sides that may stand in either order; ` .. ` leaves room for two words.
 */
const says = z
  .string()
  .regex(
    /^@?[\p{L}\p{N}][\p{L}\p{N}'’-]*(?: (?:(?:\.\.\.?|&) )?@?[\p{L}\p{N}][\p{L}\p{N}'’-]*)*$/u,
    'words as people say them, with " ... " where others may stand between',
  );
const SCOPE_SENSES = [
  'negated',
  'historical',
  'recent',
  'hypothetical',
  'other',
  'resolved',
  'dated',
  'doubtful',
  'nothing',
  'stop',
] as const satisfies readonly ScopeSense[];
const REPLY_SENSES = [
  'yes',
  'no',
  'hedged-yes',
  'hedged-no',
  'unsure',
  'fine',
  'correction',
  'group-no',
  'filler',
] as const satisfies readonly ReplySense[];
const value = z.union([z.string(), z.number()]);

export const phrasesSchema = z.strictObject({
  phrases: z.exactOptional(
    z.array(
      z.strictObject({
        finding: z.string(),
        /** Left out where the words only count when they are denied. */
        value: z.exactOptional(value),
        /** What denying the words states; left out for yes and no: the other of the two. `unknown`: nothing. */
        denied: z.exactOptional(value),
        /** `asked`: too short to count anywhere but in answer to this question. */
        only: z.exactOptional(z.literal('asked')),
        says: z.array(says).min(1),
      }),
    ),
  ),
  /** Complaints of a part of the body, by classes of words for both. */
  frames: z.exactOptional(
    z.array(
      z.strictObject({
        finding: z.string(),
        value: z.exactOptional(value),
        denied: z.exactOptional(value),
        only: z.exactOptional(z.literal('asked')),
        of: z.array(z.string()).min(1),
        is: z.array(z.string()).min(1),
        with: z.exactOptional(z.array(z.string()).min(1)),
        without: z.exactOptional(z.array(z.string()).min(1)),
      }),
    ),
  ),
  /** The classes that name parts of the body. */
  parts: z.exactOptional(z.array(z.string()).min(1)),
  /** The part that a question about a finding speaks of. */
  about: z.exactOptional(z.record(z.string(), z.string())),
  /** Sayings that hold the words of a phrase and mean something else. */
  idioms: z.exactOptional(z.array(says).min(1)),
  /** Words that stand for one another, by the name that phrases use after "@". */
  classes: z.exactOptional(z.record(z.string(), z.array(says).min(1))),
  /** What decides whether words are denied, past, supposed, or about somebody else. */
  scope: z.exactOptional(
    z.array(
      z.strictObject({
        sets: z.enum(SCOPE_SENSES),
        reach: z.enum(['forward', 'backward', 'both']),
        register: z.exactOptional(z.enum(['spoken', 'written'])),
        says: z.array(says).min(1),
      }),
    ),
  ),
  joins: z.exactOptional(z.array(says).min(1)),
  replies: z.exactOptional(z.partialRecord(z.enum(REPLY_SENSES), z.array(says).min(1))),
  measures: z.exactOptional(
    z.array(
      z.strictObject({
        finding: z.string(),
        near: z.array(z.string()),
        units: z.record(z.string(), z.number()),
        'needs-unit': z.exactOptional(z.boolean()),
      }),
    ),
  ),
  spellings: z.exactOptional(z.record(z.string(), z.string())),
  'plain-words': z.exactOptional(z.array(z.string()).min(1)),
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
  const read: PhrasesFile[] = [];
  const phrases: LexiconPhrase[] = [];
  const frames: Frame[] = [];
  for (const file of files.filter(({ below }) => below.startsWith(FOLDER))) {
    const source = readYaml(file.file, file.text);
    const data = source.ok ? checkShape(phrasesSchema, source.value) : source;
    if (!source.ok || !data.ok) {
      problems.push(...(data.ok ? [] : data.fault));
      continue;
    }
    const place = { source: source.value, report: reporter(problems) };
    for (const [at, row] of (data.value.phrases ?? []).entries()) {
      const means = toMeaning(vocabulary, row, { ...place, at: ['phrases', at] });
      if (means !== null) phrases.push(...row.says.map((words) => ({ ...means, says: words })));
    }
    for (const [at, row] of (data.value.frames ?? []).entries()) {
      const means = toMeaning(vocabulary, row, { ...place, at: ['frames', at] });
      if (means !== null) frames.push(toFrame(means, row));
    }
    read.push(data.value);
  }
  return problems.length > 0 ? failed(problems) : ok(compiled(toLexicon({ phrases, frames }, read)));
}

function toLexicon(said: Pick<Lexicon, 'phrases' | 'frames'>, files: readonly PhrasesFile[]): Lexicon {
  return {
    format: 1,
    ...said,
    parts: files.flatMap(({ parts }) => parts ?? []),
    about: Object.assign({}, ...files.map(({ about }) => about ?? {})) as Lexicon['about'],
    idioms: files.flatMap(({ idioms }) => idioms ?? []),
    classes: Object.assign({}, ...files.map(({ classes }) => classes ?? {})) as Lexicon['classes'],
    triggers: files.flatMap(({ scope }) =>
      (scope ?? []).flatMap(({ says: all, sets, reach, register }) =>
        all.map((words) => ({ says: words, sets, reach, register: register ?? 'any' })),
      ),
    ),
    joins: files.flatMap(({ joins }) => joins ?? []),
    replies: repliesOf(files),
    measures: files.flatMap(({ measures }) =>
      (measures ?? []).map(({ finding, near, units, 'needs-unit': needsUnit }) => {
        return { finding, near, units, needsUnit: needsUnit ?? false };
      }),
    ),
    spellings: Object.assign({}, ...files.map(({ spellings }) => spellings ?? {})) as Lexicon['spellings'],
    plainWords: files.flatMap((file) => file['plain-words'] ?? []),
  };
}

function repliesOf(files: readonly PhrasesFile[]): Lexicon['replies'] {
  const of = (sense: ReplySense): readonly string[] => files.flatMap(({ replies }) => replies?.[sense] ?? []);
  return {
    yes: of('yes'),
    no: of('no'),
    'hedged-yes': of('hedged-yes'),
    'hedged-no': of('hedged-no'),
    unsure: of('unsure'),
    fine: of('fine'),
    correction: of('correction'),
    'group-no': of('group-no'),
    filler: of('filler'),
  };
}

function compiled(lexicon: Lexicon): CompiledLexicon {
  const hash = createHash('sha256').update(canonicalJson(lexicon)).digest('hex');
  return { lexicon: deepFreeze(lexicon), hash };
}

/** One phrase more, as a clinician would add it; null: no such finding, a value it cannot take, or no words. */
export function withPhrase(
  lexicon: Lexicon,
  vocabulary: Vocabulary,
  phrase: { readonly says: string; readonly finding: string; readonly value: FindingValue },
): Lexicon | null {
  const spec = vocabulary.findings[phrase.finding];
  if (spec === undefined || !isStated(spec, phrase.value) || !says.safeParse(phrase.says).success)
    return null;
  return {
    ...lexicon,
    phrases: [...lexicon.phrases, { ...meaningOf(spec, phrase.value, undefined), says: phrase.says }],
  };
}

interface Place {
  readonly source: YamlSource;
  readonly report: Report;
  readonly at: readonly [string, number];
}

type Meaning = Omit<LexiconPhrase, 'says'>;
type Row = Pick<NonNullable<PhrasesFile['frames']>[number], 'finding' | 'value' | 'denied' | 'only'>;

function toFrame(means: Meaning, row: NonNullable<PhrasesFile['frames']>[number]): Frame {
  const says = `${row.is.join(' or ')} of ${row.of.join(' or ')}`;
  return {
    phrase: { ...means, says },
    of: row.of,
    is: row.is,
    with: row.with ?? [],
    without: row.without ?? [],
  };
}

/** Null: what it would state is reported as wrong. */
function toMeaning(vocabulary: Vocabulary, row: Row, { source, report, at }: Place): Meaning | null {
  const spec = vocabulary.findings[row.finding];
  if (spec === undefined) {
    report(
      'unknown-finding',
      { source, path: [...at, 'finding'] },
      `"${row.finding}" is no finding; an id of findings.yaml is accepted.`,
    );
    return null;
  }
  // Words state something or nothing; only of a number they also say that it was not measured: "no thermometer".
  const denied = row.denied === 'unknown' ? null : row.denied;
  const wrong = [row.value, denied].find((one) => one !== undefined && one !== null && !isStated(spec, one));
  if (wrong !== undefined && wrong !== null) {
    report(
      'unknown-value',
      { source, path: [...at, wrong === row.value ? 'value' : 'denied'] },
      `${row.finding}: "${wrong}" is nothing that words can state; another of these is accepted: ${acceptedValues(spec)}.`,
    );
    return null;
  }
  return { ...meaningOf(spec, row.value ?? null, denied), onlyAsked: row.only === 'asked' };
}

/** Without a stated denial, denying yes is no; `null`: denying it says nothing. */
function meaningOf(
  spec: FindingSpec,
  value: FindingValue | null,
  denied: FindingValue | null | undefined,
): Meaning {
  return {
    finding: spec.id,
    value,
    denied: denied === undefined ? oppositeOf(spec, value) : denied,
    rank: value === null ? 0 : rankOf(spec, value),
    deniedBy: deniedByOf(spec),
    onlyAsked: false,
  };
}

function isStated(spec: FindingSpec, value: FindingValue): boolean {
  return isValueOf(spec, value) && (value !== UNSURE || spec.kind === 'number');
}

/** To deny a yes is to say no; what else a caller means by denying a choice or a number is not known. */
function oppositeOf(spec: FindingSpec, value: FindingValue | null): FindingValue | null {
  if (spec.kind !== 'yes-no' || spec.worse === 'neither') return null;
  // "Not that nothing stays down" does not say that all is well.
  if (value === 'no' && spec.worse === 'no') return null;
  return value === 'yes' ? 'no' : value === 'no' ? 'yes' : null;
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
