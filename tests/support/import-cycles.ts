/** Finds files that need each other at run time: the strongly connected parts of the import graph (Tarjan 1972). */

/** Every group of two or more files that import each other, and every file that imports itself. */
export function findCycles(imports: ReadonlyMap<string, readonly string[]>): readonly (readonly string[])[] {
  const order = new Map<string, number>();
  const low = new Map<string, number>();
  const open: string[] = [];
  const cycles: string[][] = [];

  function visit(file: string): number {
    const index = order.size;
    order.set(file, index);
    low.set(file, index);
    open.push(file);
    for (const next of imports.get(file) ?? []) {
      const reached = order.has(next) ? (open.includes(next) ? order.get(next) : undefined) : visit(next);
      low.set(file, Math.min(low.get(file) ?? index, reached ?? index));
    }
    const lowest = low.get(file) ?? index;
    if (lowest === index) close(file);
    return lowest;
  }

  function close(file: string): void {
    const group = open.splice(open.indexOf(file)).sort();
    if (group.length > 1 || imports.get(file)?.includes(file) === true) cycles.push(group);
  }

  for (const file of imports.keys()) if (!order.has(file)) visit(file);
  return cycles;
}
