/** Which flows of a library are proved: every procedure and the general flow, and what is derived from them. */
import type { FlowLibrary } from '../flow/library.ts';
import type { Flows } from './prove.ts';

/** Derived are every pair of procedures of one operation, and every procedure with the own rules of a surgeon. */
export function flowsOf(library: FlowLibrary): Flows {
  return { single: singleFlowsOf(library), derived: derivedFlowsOf(library) };
}

export function singleFlowsOf(library: FlowLibrary): Flows['single'] {
  return [...library.procedures.map((id) => library.flowFor([id])), library.general];
}

function derivedFlowsOf({ procedures, surgeons, flowFor }: FlowLibrary): Flows['derived'] {
  const pairs = procedures.flatMap((a, at) => procedures.slice(at + 1).map((b) => [a, b]));
  return [
    ...pairs.map((pair) => flowFor(pair)),
    ...surgeons.flatMap((surgeon) => procedures.map((id) => flowFor([id], surgeon))),
  ];
}
