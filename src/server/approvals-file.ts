/** The signatures as the file holds them at this moment, so that a withdrawal counts without a restart. */
import { readFileSync, statSync } from 'node:fs';
import { checkShape } from '../content/check-shape.ts';
import { readYaml } from '../content/read-yaml.ts';
import { approvalsSchema, type Approval } from '../flow/approvals.ts';

/**
 * Looks at the file's time and size each time it is asked, and reads it only when one of them has changed. While the
 * file is missing or broken the last good signatures stand, and `onBroken` is told once.
 */
export function approvalsOf(
  file: string,
  atStart: readonly Approval[],
  onBroken: (why: string) => void,
): () => readonly Approval[] {
  let known = atStart;
  let seen = stampOf(file);
  return () => {
    const stamp = stampOf(file);
    if (stamp === seen) return known;
    seen = stamp;
    const read = stamp === null ? null : readApprovals(file);
    if (read === null) onBroken('The signatures cannot be read; the last good ones stand.');
    else known = read;
    return known;
  };
}

function stampOf(file: string): string | null {
  try {
    const { mtimeMs, size, ino } = statSync(file);
    return `${String(mtimeMs)} ${String(size)} ${String(ino)}`;
  } catch {
    return null;
  }
}

function readApprovals(file: string): readonly Approval[] | null {
  try {
    const source = readYaml(file, readFileSync(file, 'utf8'));
    const data = source.ok ? checkShape(approvalsSchema, source.value) : source;
    return data.ok ? data.value.approvals : null;
  } catch {
    return null;
  }
}
