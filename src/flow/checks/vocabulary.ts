/** Checks the vocabulary itself: values, limits, order, normal and condition of a finding fit each other. */
import { isValueOf, UNSURE, type FindingSpec } from '../../clinical/finding.ts';
import type { FlowFiles } from '../files.ts';
import type { FindingFile } from '../schema.ts';
import type { Report } from './report.ts';

/** Which ways of getting worse each kind can have; the later value of a choice is worse unless it says neither. */
const WORSE: Readonly<Record<FindingFile['kind'], readonly string[]>> = {
  'yes-no': ['yes', 'no', 'neither'],
  choice: ['neither'],
  number: ['up', 'down', 'away', 'neither'],
};

/** Says what is wrong with one finding, at one of its keys. */
type Say = (code: 'finding-values' | 'unknown-procedure', key: keyof FindingFile, message: string) => void;

export function checkVocabulary(files: FlowFiles, report: Report): void {
  const { data, source } = files.findings;
  const { procedures, ...groups } = data;
  const homes = new Map<string, string>();
  for (const [group, findings] of Object.entries(groups)) {
    for (const [id, entry] of Object.entries(findings)) {
      const path = [group, id];
      const home = homes.get(id);
      homes.set(id, group);
      if (home !== undefined) {
        report(
          'same-id',
          { source, path },
          `"${id}" stands in ${home} as well; each finding is accepted once.`,
        );
      }
      const spec = files.vocabulary.findings[id];
      if (spec === undefined) continue;
      const say: Say = (code, key, message) => report(code, { source, path: [...path, key] }, message);
      checkValues(entry, spec, say);
      checkOrder(entry, spec, say);
      checkWhen(files, { id, entry }, say);
      for (const procedure of entry.only ?? []) {
        if (procedures.includes(procedure)) continue;
        say(
          'unknown-procedure',
          'only',
          `"${procedure}" is no procedure; one of ${procedures.join(', ')} is accepted.`,
        );
      }
    }
  }
}

/** A choice lists its values, a number its limits, and the normal value is one of them. */
function checkValues(entry: FindingFile, spec: FindingSpec, say: Say): void {
  const { kind, values = [], min, max, normal } = entry;
  const twice = values.find((value, at) => values.indexOf(value) !== at || value === UNSURE);
  if (twice !== undefined) {
    say(
      'finding-values',
      'values',
      `"${twice}" stands among its values; each value once and no "${UNSURE}" is accepted.`,
    );
  }
  if ((kind === 'choice') !== values.length > 0) {
    say(
      'finding-values',
      'kind',
      `The kind is ${kind} and ${String(values.length)} values are listed; values for a choice and only for it are accepted.`,
    );
  }
  if (kind === 'number' && (min === undefined || max === undefined || min >= max)) {
    say(
      'finding-values',
      'kind',
      `A number stands here from ${String(min ?? 'nothing')} to ${String(max ?? 'nothing')}; a min below a max is accepted.`,
    );
  }
  const { worse } = entry;
  if (worse !== undefined && !WORSE[kind].includes(worse)) {
    say(
      'finding-values',
      'worse',
      `Worse for this ${kind} is "${worse}"; one of ${WORSE[kind].join(', ')} is accepted.`,
    );
  }
  if (normal === undefined || (normal !== UNSURE && isValueOf(spec, normal))) return;
  const accepted =
    kind === 'number' ? `a number from ${String(min)} to ${String(max)}` : `one of ${spec.values.join(', ')}`;
  say('finding-values', 'normal', `The normal value is "${normal}"; ${accepted} is accepted.`);
}

/** An order names every value, each from the list, and only a choice has one. */
function checkOrder(entry: FindingFile, spec: FindingSpec, say: Say): void {
  if (entry.order === undefined) return;
  const ordered = entry.order.flat();
  const strange = ordered.find((value) => !spec.values.includes(value));
  const missing = spec.values.find((value) => !ordered.includes(value));
  const accepted = `chains of ${spec.values.join(', ')} that hold each of them are accepted`;
  if (strange !== undefined) {
    say(
      'finding-values',
      'order',
      `"${strange}" stands in the order and is none of its values; ${accepted}.`,
    );
  }
  if (missing !== undefined) {
    say(
      'finding-values',
      'order',
      `"${missing}" is a value and stands in no chain of the order; ${accepted}.`,
    );
  }
}

interface Entry {
  readonly id: string;
  readonly entry: FindingFile;
}

/** The condition is read from the file, since an unknown value has no place in its compiled form. */
function checkWhen(files: FlowFiles, { id, entry }: Entry, say: Say): void {
  const [, finding = '', value = ''] = /^([a-z0-9-]+?)!?=([a-z0-9-]+)$/.exec(entry.when ?? '') ?? [];
  if (entry.when === undefined) return;
  const spec = finding === id ? undefined : files.vocabulary.findings[finding];
  if (spec === undefined) {
    say('finding-values', 'when', `"${finding}" is no other finding; an id of this file is accepted.`);
  } else if (spec.kind === 'number' ? value !== UNSURE : !isValueOf(spec, value)) {
    say(
      'finding-values',
      'when',
      `${finding}: "${value}" stands in the condition; one of these is accepted: ${[...spec.values, UNSURE].join(', ')}.`,
    );
  }
}
