/** Finds the line of a path in a parsed file. */
import { isCollection, isMap, isPair, isScalar, isSeq, type Document, type LineCounter } from 'yaml';
import type { ContentPath } from './diagnostic.ts';

export function lineFinder(document: Document.Parsed, lines: LineCounter): (path: ContentPath) => number {
  return (path) => {
    let node: unknown = document.contents;
    let offset = startOf(node) ?? 0;
    for (const step of path) {
      const inner = stepInto(node, step);
      if (inner === null) break;
      offset = startOf(inner.label) ?? startOf(inner.node) ?? offset;
      node = inner.node;
    }
    return Math.max(1, lines.linePos(offset).line);
  };
}

/** `label` is where a reader looks for the value: its key in a group, itself in a list. */
function stepInto(node: unknown, step: string | number): { label: unknown; node: unknown } | null {
  if (isSeq(node)) {
    const item = typeof step === 'number' ? node.items[step] : undefined;
    return item === undefined || isPair(item) ? null : { label: item, node: item };
  }
  if (!isMap(node)) return null;
  const pair = node.items.find(({ key }) => isScalar(key) && String(key.value) === String(step));
  return pair === undefined ? null : { label: pair.key, node: pair.value };
}

function startOf(node: unknown): number | null {
  if (!isScalar(node) && !isCollection(node)) return null;
  return node.range?.[0] ?? null;
}
