/** The files of the project, by path from its top folder, without what git ignores. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

export const projectFolder = join(import.meta.dirname, '..', '..');

const notOurs = new Set(['node_modules', '.git', '.data', '.build']);

/** Every file below a folder whose path ends in one of `endings`, as sorted paths from the top folder with `/`. */
export function listFiles(folder: string, endings: readonly string[]): readonly string[] {
  const entries = readdirSync(join(projectFolder, folder), { withFileTypes: true });
  const found = entries.flatMap((entry) => {
    if (notOurs.has(entry.name)) return [];
    const path = folder === '.' ? entry.name : `${folder}/${entry.name}`;
    if (entry.isDirectory()) return listFiles(path, endings);
    return endings.some((ending) => path.endsWith(ending)) ? [path] : [];
  });
  return found.sort();
}

export function readText(path: string): string {
  return readFileSync(join(projectFolder, path), 'utf8');
}
