/** One of two calls that are compared: tables at a moment, with one finding held at a value. */
import { emptyAssignment, NOT_REACHED, type Assignment } from './domain.ts';
import { rankOf, type Cell, type Moment, type Row } from './tables.ts';

export interface Side {
  readonly moment: Moment;
  /** The finding that is held, and the class number of its value; null holds nothing. */
  readonly held: { readonly finding: number; readonly value: number } | null;
}

/** The answers of a side: the shared ones, and the held finding at its value. */
export function withHeld(side: Side, shared: Assignment): Assignment {
  const given = shared.slice();
  if (side.held !== null) given[side.held.finding] = side.held.value;
  return given;
}

export function sideRank(side: Side, shared: Assignment): number {
  return rankOf(side.moment, withHeld(side, shared));
}

/** Whether the row can hold on this side as far as its held finding goes. */
export function mayHold(side: Side, row: Row): boolean {
  return row.every(({ finding, holds }) => side.held?.finding !== finding || holds[side.held.value] === true);
}

/** The cells of a row that the shared answers have to fulfil. */
export function openCells(side: Side, row: Row): readonly Cell[] {
  return row.filter(({ finding }) => finding !== side.held?.finding);
}

/** Every way to fulfil these cells with nothing else reached. */
export function* waysToFulfil(side: Side, cells: readonly Cell[]): Generator<Assignment> {
  const shared = emptyAssignment(side.moment.tables.domain);
  yield* fulfil(shared, cells);
}

function* fulfil(shared: Assignment, cells: readonly Cell[]): Generator<Assignment> {
  const [cell, ...rest] = cells;
  if (cell === undefined) {
    yield shared;
    return;
  }
  for (const [value, yes] of cell.holds.entries()) {
    if (!yes) continue;
    shared[cell.finding] = value;
    yield* fulfil(shared, rest);
  }
  shared[cell.finding] = NOT_REACHED;
}

export function reachedCount(given: Assignment): number {
  let reached = 0;
  for (const value of given) if (value !== NOT_REACHED) reached += 1;
  return reached;
}
