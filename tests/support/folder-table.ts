/** The folder table of DEVELOPERS.md as data, and what it says about one import. */
import type { SourceImport } from './source-file.ts';

export interface FolderRow {
  /** A folder or a single file below `src`. The longest row that fits a path is its row. */
  readonly name: string;
  readonly values: Allowed;
  readonly types: Allowed;
  readonly packages: Allowed;
}

interface Allowed {
  readonly names: readonly string[];
  /** The list names what is not allowed ("all but ..."). */
  readonly allBut: boolean;
}

/** Reads the first table whose head begins with "| folder |". */
export function readFolderTable(markdown: string): readonly FolderRow[] {
  const lines = markdown.split('\n');
  const head = lines.findIndex((line) => line.startsWith('| folder |'));
  if (head < 0) return [];
  const body = lines.slice(head + 2);
  const end = body.findIndex((line) => !line.startsWith('|'));
  return body.slice(0, end < 0 ? undefined : end).map(readRow);
}

function readRow(line: string): FolderRow {
  const [name = '', , values = '', types = '', packages = ''] = line
    .split('|')
    .slice(1, -1)
    .map((cell) => cell.replaceAll('`', '').trim());
  return {
    name: name.replace(/^src\//, ''),
    values: readAllowed(values),
    types: readAllowed(types),
    packages: readAllowed(packages),
  };
}

function readAllowed(cell: string): Allowed {
  const allBut = cell.startsWith('all but ');
  const list = allBut ? cell.slice('all but '.length) : cell;
  return { allBut, names: list === '-' ? [] : list.split(',').map((name) => name.trim()) };
}

/** Why the table refuses an import, or null when it allows it. */
export function refusal(table: readonly FolderRow[], found: SourceImport): string | null {
  const row = rowOf(table, found.from);
  if (row === null) return `${found.from} stands in a folder without a row`;
  if (found.outside) return allowsPackage(row.packages, found.target) ? null : told(found, row);
  const target = rowOf(table, found.target);
  if (target === null) return `${place(found)} imports ${found.target}, which no row covers`;
  if (target === row || target.name.startsWith(`${row.name}/`)) return null;
  if (allows(row.values, target)) return null;
  return found.typeOnly && allows(row.types, target) ? null : told(found, row);
}

export function rowOf(table: readonly FolderRow[], path: string): FolderRow | null {
  const fitting = table.filter((row) => path === `src/${row.name}` || path.startsWith(`src/${row.name}/`));
  return fitting.sort((a, b) => b.name.length - a.name.length)[0] ?? null;
}

function allows(allowed: Allowed, row: FolderRow): boolean {
  if (!allowed.allBut) return allowed.names.includes(row.name);
  return !allowed.names.some((name) => row.name === name || row.name.startsWith(`${name}/`));
}

function allowsPackage(allowed: Allowed, name: string): boolean {
  return allowed.names.includes(name) || (name.startsWith('node:') && allowed.names.includes('node:*'));
}

function told(found: SourceImport, row: FolderRow): string {
  const what = found.typeOnly ? 'a type' : 'a value';
  return `${place(found)} imports ${what} from ${found.target}, which the row of ${row.name} does not allow`;
}

function place(found: SourceImport): string {
  return `${found.from}:${String(found.line)}`;
}
