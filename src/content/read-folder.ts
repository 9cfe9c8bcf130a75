/** Lists and reads the YAML files below a folder: the one place where content touches the disk. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { failed, ok, type Result } from '../basics/result.ts';
import type { Diagnostic } from './diagnostic.ts';

export interface TextFile {
  /** The folder as given, with the path below it; what a diagnostic names. */
  readonly file: string;
  /** The path below the folder, with forward slashes. */
  readonly below: string;
  readonly text: string;
}

/** Every `.yaml` file, sorted by path. A file that nothing would read (`.yml`) is said, not skipped. */
export function readFolder(folder: string): Result<readonly TextFile[], readonly Diagnostic[]> {
  const listed = list(folder);
  if (listed === null)
    return failed([unreadable(folder, 'The folder cannot be listed; a readable folder is accepted.')]);
  const files: TextFile[] = [];
  const problems: Diagnostic[] = [];
  for (const below of listed) {
    const file = join(folder, below);
    const text = below.endsWith('.yaml') ? readText(file) : null;
    if (text !== null) files.push({ file, below, text });
    else problems.push(unreadable(file, whyNot(below)));
  }
  return problems.length > 0 ? failed(problems) : ok(files);
}

function whyNot(below: string): string {
  return below.endsWith('.yaml')
    ? 'The file cannot be read; UTF-8 text is accepted.'
    : 'The file ends in another way; .yaml is accepted.';
}

function list(folder: string): readonly string[] | null {
  try {
    return readdirSync(folder, { recursive: true, encoding: 'utf8' })
      .map((below) => below.replaceAll('\\', '/'))
      .filter((below) => /\.ya?ml$/i.test(below))
      .toSorted();
  } catch {
    return null;
  }
}

function readText(file: string): string | null {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(readFileSync(file));
  } catch {
    return null;
  }
}

function unreadable(file: string, message: string): Diagnostic {
  return { code: 'unreadable', severity: 'error', file, line: 1, path: [], message };
}
