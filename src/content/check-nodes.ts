/** Walks the parsed nodes and refuses what YAML allows and content does not: anchors, aliases, keys that are not text or stand twice, depth. */
import { isAlias, isMap, isScalar, isSeq, type Document, type LineCounter } from 'yaml';
import { mustBeQuoted } from './ambiguous-scalar.ts';
import type { ContentPath, Diagnostic, DiagnosticCode } from './diagnostic.ts';

export interface ParsedFile {
  readonly file: string;
  readonly document: Document.Parsed;
  readonly lines: LineCounter;
}

interface Place {
  readonly path: ContentPath;
  readonly offset: number;
}

type Report = (code: DiagnosticCode, place: Place, message: string) => void;

const DEEPEST = 40;

export function checkNodes(parsed: ParsedFile): Diagnostic[] {
  const problems: Diagnostic[] = [];
  const report: Report = (code, place, message) => {
    const line = Math.max(1, parsed.lines.linePos(place.offset).line);
    problems.push({ code, severity: 'error', file: parsed.file, line, path: place.path, message });
  };
  checkNode(parsed.document.contents, { path: [], offset: 0 }, report);
  return problems;
}

function checkNode(node: unknown, around: Place, report: Report): void {
  const place = { path: around.path, offset: offsetOf(node) ?? around.offset };
  if (isAlias(node)) return report('alias', place, 'An alias stands here; the value itself is accepted.');
  if (place.path.length > DEEPEST) {
    return report('unreadable', place, `The file is nested too deeply; ${DEEPEST} levels are accepted.`);
  }
  refuseAnchor(node, place, report);
  if (isScalar(node)) return checkScalar(node, place, report);
  if (isSeq(node)) {
    for (const [at, item] of node.items.entries()) {
      checkNode(item, { path: [...place.path, at], offset: place.offset }, report);
    }
  }
  if (isMap(node)) checkMap(node.items, place, report);
}

function refuseAnchor(node: unknown, place: Place, report: Report): void {
  if (!isScalar(node) && !isSeq(node) && !isMap(node)) return;
  if (node.anchor !== undefined) report('alias', place, 'An anchor stands here; a plain value is accepted.');
}

type Pairs = readonly { readonly key: unknown; readonly value: unknown }[];

/** Keys are compared as text, since `1` and `"1"` become one key in plain data. */
function checkMap(pairs: Pairs, around: Place, report: Report): void {
  const seen = new Set<string>();
  for (const { key: node, value } of pairs) {
    const offset = offsetOf(node) ?? around.offset;
    const key = readKey(node);
    if (key === null) {
      report(
        'unreadable',
        { path: around.path, offset },
        'This key is not text; an ordinary word is accepted.',
      );
      continue;
    }
    const place = { path: [...around.path, key], offset };
    if (seen.has(key))
      report('duplicate-key', place, `The key "${key}" stands twice; each key is accepted once.`);
    seen.add(key);
    checkNode(node, place, report);
    checkNode(value, place, report);
  }
}

function readKey(node: unknown): string | null {
  if (!isScalar(node) || (typeof node.value !== 'string' && typeof node.value !== 'number')) return null;
  const key = String(node.value);
  return key === '__proto__' || key === '<<' ? null : key;
}

function checkScalar(
  node: { readonly type?: unknown; readonly source?: string | undefined; readonly value: unknown },
  place: Place,
  report: Report,
): void {
  if (node.type !== 'PLAIN' || node.source === undefined) return;
  const seems = mustBeQuoted(node.source, node.value);
  if (seems === null) return;
  report(
    'unquoted-text',
    place,
    `${seems[0]?.toUpperCase()}${seems.slice(1)} stands here without quotes; "${node.source}" in quotes is accepted.`,
  );
}

function offsetOf(node: unknown): number | null {
  if (!isAlias(node) && !isScalar(node) && !isSeq(node) && !isMap(node)) return null;
  return node.range?.[0] ?? null;
}
