/** Turns zod's issues into diagnostics: what stands at which place and line, and what is accepted there. */
import type { z } from 'zod';
import { accepted, ownWords } from './accepted.ts';
import { showPath, type ContentPath, type Diagnostic } from './diagnostic.ts';
import type { YamlSource } from './read-yaml.ts';

type Issue = z.core.$ZodIssue;

/**
 * A schema's own messages are read as "what is accepted", so they are written as a noun phrase
 * (`z.string().regex(..., 'a date as YYYY-MM-DD')`).
 */
export function zodDiagnostics(
  error: { readonly issues: readonly Issue[] },
  source: YamlSource,
): readonly Diagnostic[] {
  return error.issues.flatMap((issue) => diagnose(issue, [], source)).toSorted((a, b) => a.line - b.line);
}

function diagnose(issue: Issue, above: ContentPath, source: YamlSource): readonly Diagnostic[] {
  const path = [...above, ...contentPath(issue.path)];
  if (issue.code === 'unrecognized_keys') {
    return issue.keys.map((key) => unknownKey({ key, path, source, allowed: ownWords(issue) }));
  }
  if (issue.code === 'invalid_key') {
    const key = String(path.at(-1) ?? '');
    const allowed = issue.issues.map(accepted).join(' and ');
    return [unknownKey({ key, path: path.slice(0, -1), source, allowed })];
  }
  if (issue.code === 'invalid_union') {
    const branch = closestBranch(issue.errors);
    if (branch !== null) return branch.flatMap((inner) => diagnose(inner, path, source));
  }
  return [misfit(issue, path, source)];
}

function misfit(issue: Issue, path: ContentPath, source: YamlSource): Diagnostic {
  const value = valueAt(source.data, path);
  const isBareText = wantsText(issue) && (typeof value === 'number' || typeof value === 'boolean');
  const found = value === undefined ? 'nothing is written' : `stands ${describe(value)}`;
  return {
    code: isBareText ? 'unquoted-text' : 'wrong-shape',
    severity: 'error',
    file: source.file,
    line: source.lineOf(path),
    path,
    message: `At ${showPath(path)} ${found}${isBareText ? ' without quotes' : ''}; ${accepted(issue)} is accepted.`,
  };
}

function unknownKey(about: {
  readonly key: string;
  readonly path: ContentPath;
  readonly source: YamlSource;
  readonly allowed: string | null;
}): Diagnostic {
  const path = [...about.path, about.key];
  const allowed = about.allowed ?? 'only a key that is read';
  return {
    code: 'unknown-key',
    severity: 'error',
    file: about.source.file,
    line: about.source.lineOf(path),
    path,
    message: `The key "${about.key}" at ${showPath(about.path)} is not known; ${allowed} is accepted.`,
  };
}

/** The alternative that the writer most likely meant: one that fits at the top and fails only further in. */
function closestBranch(branches: readonly (readonly Issue[])[]): readonly Issue[] | null {
  const inner = branches.filter((issues) => issues.every(isFurtherIn));
  if (inner.length === 0) return null;
  return inner.reduce((best, issues) => (issues.length < best.length ? issues : best));
}

function isFurtherIn(issue: Issue): boolean {
  return issue.path.length > 0 || issue.code === 'unrecognized_keys';
}

function wantsText(issue: Issue): boolean {
  if (issue.code === 'invalid_type') return issue.expected === 'string';
  if (issue.code !== 'invalid_union') return false;
  return issue.errors.some((issues) => issues.length === 1 && issues.some(wantsText));
}

function contentPath(path: readonly PropertyKey[]): ContentPath {
  return path.map((step) => (typeof step === 'symbol' ? String(step) : step));
}

function valueAt(data: unknown, path: ContentPath): unknown {
  let value = data;
  for (const step of path) {
    if (typeof value !== 'object' || value === null) return undefined;
    value = Object.entries(value).find(([key]) => key === String(step))?.[1];
  }
  return value;
}

function describe(value: unknown): string {
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (typeof value === 'string')
    return `the text "${value.length > 40 ? `${value.slice(0, 40)}...` : value}"`;
  if (typeof value === 'number') return `the number ${value}`;
  if (typeof value === 'boolean') return `the value ${value}`;
  return value === null ? 'an empty value' : 'a group of keys';
}
