/** Chance that repeats: the same seed gives the same row of numbers (Mulberry32, T. Ettinger 2017, public domain). */
export interface Seeded {
  /** From 0 to below 1. */
  readonly next: () => number;
  /** A whole number from `least` to `most`, both included. */
  readonly whole: (least: number, most: number) => number;
  readonly pick: <TItem>(items: readonly TItem[]) => TItem;
  /** A copy in another order (Fisher and Yates). */
  readonly shuffle: <TItem>(items: readonly TItem[]) => readonly TItem[];
}

export function seeded(seed: number): Seeded {
  const next = mulberry32(seed);
  const whole = (least: number, most: number): number => least + Math.floor(next() * (most - least + 1));
  return {
    next,
    whole,
    pick: (items) => {
      const item = items[whole(0, items.length - 1)];
      if (item === undefined) throw new Error('There is nothing to pick from');
      return item;
    },
    shuffle: (items) => {
      const rest = [...items];
      return items.flatMap(() => rest.splice(whole(0, rest.length - 1), 1));
    },
  };
}

function mulberry32(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    const first = Math.imul(state ^ (state >>> 15), state | 1);
    const second = first ^ (first + Math.imul(first ^ (first >>> 7), first | 61));
    return ((second ^ (second >>> 14)) >>> 0) / 2 ** 32;
  };
}
