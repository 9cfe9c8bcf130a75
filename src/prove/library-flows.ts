/** Which flows of a library are proved: every procedure, the general flow, and every pair of procedures of one operation. */
import type { FlowLibrary } from '../flow/library.ts';
import type { Flows } from './prove.ts';

export function flowsOf(library: FlowLibrary): Flows {
  const { procedures } = library;
  const pairs = procedures.flatMap((a, at) => procedures.slice(at + 1).map((b) => [a, b]));
  return {
    single: [...procedures.map((id) => library.flowFor([id])), library.general],
    combined: pairs.map((pair) => library.flowFor(pair)),
  };
}
