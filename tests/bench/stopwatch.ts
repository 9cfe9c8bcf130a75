/** The one place of the benchmarks that asks for the time, and what is made of many times. */

/** Milliseconds since some fixed moment, with fractions. */
export function clockMillis(): number {
  return performance.now();
}

export function millisOf(run: () => void): number {
  const start = clockMillis();
  run();
  return clockMillis() - start;
}

/** The value below which the given share (0 to 1) of all lies, by nearest rank; 0 of none. */
export function quantile(values: readonly number[], share: number): number {
  const sorted = Float64Array.from(values).sort();
  const at = Math.min(sorted.length - 1, Math.max(0, Math.ceil(share * sorted.length) - 1));
  return sorted[at] ?? 0;
}

export function median(values: readonly number[]): number {
  return quantile(values, 0.5);
}
