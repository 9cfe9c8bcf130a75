/** One table in memory: frozen rows by key, found by group, and every change with its undoing. */

export interface MemoryTable<TRow> {
  readonly get: (key: string) => TRow | undefined;
  readonly all: () => readonly TRow[];
  readonly inGroup: (group: string) => readonly TRow[];
  /** False, and nothing changed, when the key is there. */
  readonly add: (row: TRow) => boolean;
  readonly put: (row: TRow) => void;
  /** False when there was nothing to drop. */
  readonly drop: (key: string) => boolean;
  /** How many rows went. */
  readonly dropGroup: (group: string) => number;
}

export interface TableShape<TRow> {
  readonly key: (row: TRow) => string;
  /** What the rows are looked up by besides their key. */
  readonly group: (row: TRow) => string;
  /** Where each change leaves what undoes it. */
  readonly undo: (() => void)[];
}

export function memoryTable<TRow extends object>({ key, group, undo }: TableShape<TRow>): MemoryTable<TRow> {
  const rows = groupedRows({ key, group });

  function put(row: TRow): void {
    const before = rows.get(key(row));
    undo.push(() => {
      rows.unset(key(row));
      if (before !== undefined) rows.set(before);
    });
    rows.set(Object.freeze(row));
  }

  function drop(at: string): boolean {
    const before = rows.get(at);
    if (before === undefined) return false;
    undo.push(() => {
      rows.set(before);
    });
    rows.unset(at);
    return true;
  }

  return {
    get: rows.get,
    all: rows.all,
    inGroup: rows.inGroup,
    put,
    drop,
    add: (row) => {
      const isNew = rows.get(key(row)) === undefined;
      if (isNew) put(row);
      return isNew;
    },
    dropGroup: (name) => rows.inGroup(name).filter((row) => drop(key(row))).length,
  };
}

function groupedRows<TRow>({ key, group }: Pick<TableShape<TRow>, 'key' | 'group'>) {
  const rows = new Map<string, TRow>();
  const groups = new Map<string, Map<string, TRow>>();

  function unset(at: string): void {
    const row = rows.get(at);
    if (row === undefined) return;
    rows.delete(at);
    groups.get(group(row))?.delete(at);
  }

  function set(row: TRow): void {
    unset(key(row));
    rows.set(key(row), row);
    const members = groups.get(group(row)) ?? new Map<string, TRow>();
    groups.set(group(row), members.set(key(row), row));
  }

  return {
    get: (at: string) => rows.get(at),
    all: () => [...rows.values()],
    inGroup: (name: string) => [...(groups.get(name)?.values() ?? [])],
    set,
    unset,
  };
}
