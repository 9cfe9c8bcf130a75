/**
 * A plan is what one read or write does, as a sequence of asks. It knows no database and waits for nothing itself:
 * SQLite and memory answer it within one turn of the event loop, PostgreSQL over its connection.
 */
import type { AskName, Asks, Values } from './asks.ts';

export type AskedOf<TName extends AskName> = {
  readonly [K in TName]: { readonly name: K; readonly values: Asks[K]['values'] };
}[TName];
export type Asked = AskedOf<AskName>;

export interface Answer {
  readonly rows: readonly unknown[];
  /** How many rows a write changed. */
  readonly changed: number;
}

export type Plan<TValue> = Generator<Asked, TValue, Answer>;

/** What a writing plan ends with: `keep` false undoes all it wrote. */
export interface Written<TValue> {
  readonly keep: boolean;
  readonly value: TValue;
}

export function* rowsOf<TName extends AskName>(
  name: TName,
  values: Asks[TName]['values'],
): Plan<readonly Asks[TName]['row'][]> {
  const answer = yield asked(name, values);
  return answer.rows as readonly Asks[TName]['row'][];
}

export function* rowOf<TName extends AskName>(
  name: TName,
  values: Asks[TName]['values'],
): Plan<Asks[TName]['row'] | null> {
  const rows = yield* rowsOf(name, values);
  return rows[0] ?? null;
}

/** How many rows changed. */
export function* change<TName extends AskName>(name: TName, values: Asks[TName]['values']): Plan<number> {
  const answer = yield asked(name, values);
  return answer.changed;
}

// The pair is right by the signature of the callers; the compiler cannot see a pair of one unknown name as one of the union.
function asked(name: AskName, values: Values): Asked {
  return { name, values } as Asked;
}

export function runNow<TValue>(plan: Plan<TValue>, answer: (asked: Asked) => Answer): TValue {
  let step = plan.next();
  while (step.done !== true) step = plan.next(answer(step.value));
  return step.value;
}

export async function runOver<TValue>(
  plan: Plan<TValue>,
  answer: (asked: Asked) => Promise<Answer>,
): Promise<TValue> {
  let step = plan.next();
  while (step.done !== true) step = plan.next(await answer(step.value));
  return step.value;
}
