/** One surgeon's own rules on top of the shared flow: added rules and thresholds, and aftercare of their own. */
import type { Aftercare, Concern, Rule } from './compiled.ts';
import { aftercareOf } from './aftercare.ts';
import { toRule, toThreshold } from './parts.ts';
import type { SurgeonFile } from './schema.ts';

export interface SurgeonParts {
  readonly name: string | null;
  readonly rules: readonly Rule[];
  /** Thresholds are added, never replaced: points can only come to more. */
  readonly thresholds: (concerns: readonly Concern[]) => readonly Concern[];
  /** A plan of the surgeon's own replaces the shared one of its kind. */
  readonly aftercare: (procedure: string, shared: readonly Aftercare[]) => readonly Aftercare[];
}

const NONE: SurgeonParts = {
  name: null,
  rules: [],
  thresholds: (concerns) => concerns,
  aftercare: (_procedure, shared) => shared,
};

export function surgeonParts(file: SurgeonFile | null): SurgeonParts {
  const [name] = file?.called ?? [];
  if (file === null || name === undefined) return NONE;
  const owned = <TPart extends { readonly source: string }>(part: TPart): TPart => ({
    ...part,
    source: `${name}'s own rule; ${part.source}`,
  });
  return {
    name,
    rules: (file.rules ?? []).map((rule) => owned(toRule(rule, `surgeon-${file.surgeon}`))),
    thresholds: (concerns) =>
      concerns.map((concern) => {
        const own = (file.thresholds?.[concern.id] ?? []).map(toThreshold);
        if (own.length === 0) return concern;
        const source = `${concern.source}; with ${name}'s own rule`;
        return { ...concern, source, thresholds: [...concern.thresholds, ...own] };
      }),
    aftercare: (procedure, shared) => {
      const own = aftercareOf(procedure, file.aftercare?.[procedure] ?? {}).map(owned);
      const kinds = new Set(own.map(({ kind }) => kind));
      return [...shared.filter(({ kind }) => !kinds.has(kind)), ...own];
    },
  };
}
