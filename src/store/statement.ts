/** A statement that Kysely compiles once; its values are named slots, filled in by position at every run. */
import { sql } from 'kysely';
import type { Compilable, RawBuilder } from 'kysely';
import type { AskName, Asks, SqlValue, Values } from './asks.ts';

/** What the query answers with must be the row that the ask promises; a write answers with no row. */
export type Query<TRow> = [TRow] extends [never]
  ? Compilable
  : Compilable & { readonly execute: () => Promise<TRow[]> };

export type Queries<TName extends AskName> = { readonly [K in TName]: Query<Asks[K]['row']> };

export interface Statement {
  readonly sql: string;
  readonly bind: (values: Values) => SqlValue[];
}

class Slot {
  readonly name: string;
  constructor(name: string) {
    this.name = name;
  }
}

/** Stands for the value of that name, whatever its column's type. */
export function slot(name: string): RawBuilder<never> {
  return sql<never>`${new Slot(name)}`;
}

type Expressions<TName extends string> = { readonly [K in TName]: RawBuilder<never> };

/** One slot a column, under the column's name. */
export function slots<const TName extends string>(names: readonly TName[]): Expressions<TName> {
  return expressions(names, slot);
}

/** What an insert that met an existing row would have written there. */
export function excluded<const TName extends string>(names: readonly TName[]): Expressions<TName> {
  return expressions(names, (name) => sql<never>`${sql.ref(`excluded.${name}`)}`);
}

function expressions<TName extends string>(
  names: readonly TName[],
  make: (name: TName) => RawBuilder<never>,
): Expressions<TName> {
  return Object.fromEntries(names.map((name) => [name, make(name)])) as Expressions<TName>;
}

export function statement(query: Compilable): Statement {
  const compiled = query.compile();
  const names = compiled.parameters.map(slotName);
  return { sql: compiled.sql, bind: (values) => names.map((name) => valueOf(values, name)) };
}

function slotName(parameter: unknown): string {
  if (parameter instanceof Slot) return parameter.name;
  throw new Error('A statement holds a fixed value where a slot belongs.');
}

function valueOf(values: Values, name: string): SqlValue {
  const value = values[name];
  if (value === undefined) throw new Error(`A statement was given no value for ${name}.`);
  return value;
}
