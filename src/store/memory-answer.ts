/** The shapes in which a table in memory answers. */
import type { AskName, Asks } from './asks.ts';
import type { MemoryTable } from './memory-table.ts';
import type { Answer } from './plan.ts';

export type Handlers<TName extends AskName = AskName> = {
  readonly [K in TName]: (values: Asks[K]['values']) => MemoryAnswer<Asks[K]['row']>;
};

export interface MemoryAnswer<TRow> extends Answer {
  readonly rows: readonly TRow[];
}

export function many<TRow>(rows: readonly TRow[]): MemoryAnswer<TRow> {
  return { rows, changed: rows.length };
}

export function one<TRow>(row: TRow | undefined): MemoryAnswer<TRow> {
  return many(row === undefined ? [] : [row]);
}

export function changed(rows: number | boolean): MemoryAnswer<never> {
  return { rows: [], changed: Number(rows) };
}

export function put<TRow>(table: MemoryTable<TRow>, row: TRow): MemoryAnswer<never> {
  table.put(row);
  return changed(1);
}

export function dropGroup<TRow>(table: MemoryTable<TRow>, group: string): MemoryAnswer<never> {
  return changed(table.dropGroup(group));
}

export function compare<TValue extends string | number>(a: TValue, b: TValue): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
