/** Which flows of a library are proved: every procedure and the general flow, and what is derived from them. */
import type { CompiledFlow } from '../flow/compiled.ts';
import type { FlowLibrary } from '../flow/library.ts';
import type { Flows } from './prove.ts';

export function flowsOf(library: FlowLibrary): Flows {
  return {
    single: singleFlowsOf(library),
    derived: [...combinedFlowsOf(library), ...surgeonFlowsOf(library)],
  };
}

export function singleFlowsOf(library: FlowLibrary): readonly CompiledFlow[] {
  return [...library.procedures.map((id) => library.flowFor([id])), library.general];
}

/** Every procedure with the own rules of every surgeon who has some. */
function surgeonFlowsOf({ procedures, surgeons, flowFor }: FlowLibrary): readonly CompiledFlow[] {
  return surgeons.flatMap((surgeon) => procedures.map((id) => flowFor([id], surgeon)));
}

/** Every pair of procedures of one operation. */
function combinedFlowsOf({ procedures, flowFor }: FlowLibrary): readonly CompiledFlow[] {
  const pairs = procedures.flatMap((a, at) => procedures.slice(at + 1).map((b) => [a, b]));
  return pairs.map((pair) => flowFor(pair));
}
