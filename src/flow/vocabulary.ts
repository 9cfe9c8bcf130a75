/** Turns the vocabulary file into the vocabulary: every finding with its defaults filled in. */
import type { Condition, FindingSpec, FindingValue, Vocabulary } from '../clinical/finding.ts';
import { UNSURE } from '../clinical/finding.ts';
import type { FindingFile, VocabularyFile } from './schema.ts';

export function toVocabulary(file: VocabularyFile): Vocabulary {
  const { procedures, ...groups } = file;
  const entries = Object.entries(groups).flatMap(([group, findings]) =>
    Object.entries(findings).map(([id, entry]): [string, string, FindingFile] => [group, id, entry]),
  );
  const values = new Map(entries.map(([, id, entry]) => [id, valuesOf(entry)]));
  const findings: Record<string, FindingSpec> = {};
  for (const [group, id, entry] of entries) findings[id] = toSpec({ group, id, entry, values });
  return { findings, ids: entries.map(([, id]) => id), procedures };
}

function valuesOf(entry: FindingFile): readonly string[] {
  if (entry.kind === 'number') return [];
  return entry.kind === 'yes-no' ? ['no', 'yes'] : (entry.values ?? []);
}

interface Entry {
  readonly group: string;
  readonly id: string;
  readonly entry: FindingFile;
  readonly values: ReadonlyMap<string, readonly string[]>;
}

function toSpec({ group, id, entry, values }: Entry): FindingSpec {
  const own = valuesOf(entry);
  return {
    id,
    group,
    kind: entry.kind,
    is: entry.is ?? id.replaceAll('-', ' '),
    values: own,
    unit: entry.unit ?? null,
    min: entry.min ?? null,
    max: entry.max ?? null,
    step: entry.step ?? 1,
    normal: entry.normal ?? normalOf(entry, own),
    worse:
      entry.worse ??
      { 'yes-no': 'yes' as const, choice: 'later' as const, number: 'up' as const }[entry.kind],
    order: entry.order ?? null,
    optional: entry.optional ?? false,
    only: entry.only ?? null,
    when: entry.when === undefined ? null : toWhen(entry.when, values),
  };
}

function normalOf(entry: FindingFile, own: readonly string[]): FindingValue {
  return entry.kind === 'number' ? (entry.min ?? 0) : (own[0] ?? 'no');
}

/** `swelling!=none` is asked on every other value and when unsure: more is asked, never less. */
function toWhen(text: string, values: ReadonlyMap<string, readonly string[]>): Condition {
  const match = /^([a-z0-9-]+?)(!?)=([a-z0-9-]+)$/.exec(text);
  const [, finding = '', not = '', value = ''] = match ?? [];
  if (not === '') return [[{ finding, in: [value] }]];
  const others = (values.get(finding) ?? []).filter((other) => other !== value);
  return [[{ finding, in: [...others, UNSURE] }]];
}
