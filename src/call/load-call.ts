/** Loads a call with the machine of the flow it runs on; a snapshot that does not fit is rebuilt from the events. */
import { fault, type Fault } from '../basics/fault.ts';
import type { CallId, FlowHash } from '../basics/ids.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import type { Outcome } from '../clinical/outcome.ts';
import { FLOW_FORMAT, type CompiledFlow } from '../flow/compiled.ts';
import type { Operation, Patient } from '../people/patient.ts';
import type { CallHead, CallStore } from './call-store.ts';
import type { Flows } from './choose-flow.ts';
import type { FlowStore } from './flow-store.ts';
import type { Identifying } from './identify.ts';
import { onCurrentFlow } from './lost-flow.ts';
import { rebuild } from './rebuild.ts';
import { readStored, resolve, type Snapshot } from './snapshot.ts';
import { begin, runnerOf, type Runner } from './step.ts';

export interface Loaded {
  /** Null for a call that is only beginning. */
  readonly head: CallHead | null;
  readonly seq: number;
  /** False when what was sealed in it is erased. */
  readonly readable: boolean;
  readonly runner: Runner;
  readonly snapshot: Snapshot;
  readonly patient: Patient | null;
  readonly operation: Operation | null;
  /** The least that the call comes to because its own flow is gone and today's runs instead; null otherwise. */
  readonly stands: Outcome | null;
  /** It is so because the flow that it runs on was withdrawn. */
  readonly withdrawn?: true;
}

/** One machine per flow hash, built once and kept. */
export interface Runners {
  readonly of: (compiled: CompiledFlow) => Runner;
  /** Null when no call has run on it since the program started. */
  readonly known: (hash: FlowHash) => Runner | null;
}

export function makeRunners(): Runners {
  const known = new Map<string, Runner>();
  return {
    known: (hash) => known.get(hash) ?? null,
    of: (compiled) => {
      const runner = known.get(compiled.hash) ?? runnerOf(compiled);
      known.set(compiled.hash, runner);
      return runner;
    },
  };
}

export interface LoadDeps {
  readonly store: CallStore;
  readonly flows: Flows;
  readonly keptFlows: FlowStore;
  readonly runners: Runners;
  readonly identifying: Identifying;
}

export function newCall(deps: Pick<LoadDeps, 'flows' | 'runners'>): Loaded {
  const runner = deps.runners.of(deps.flows.general);
  return {
    head: null,
    seq: 0,
    readable: true,
    runner,
    snapshot: begin(runner),
    patient: null,
    operation: null,
    stands: null,
  };
}

export async function loadCall(deps: LoadDeps, call: CallId): Promise<Result<Loaded, Fault>> {
  const stored = await deps.store.load(call);
  if (!stored.ok) return failed(fault('store-down', 'The record cannot be read now.'));
  if (stored.value === null) return failed(fault('not-found', 'There is no such call.'));
  const { head, seq, snapshot } = stored.value;
  const people = await deps.identifying.people(head.patientId, head.operationId);
  if (!people.ok) return people;
  const compiled = await flowOf(deps, head.flowHash, people.value.operation);
  if (!compiled.ok) return compiled;
  const known = { head, seq, readable: snapshot !== null, ...people.value, stands: null };
  if (compiled.value === null) {
    const moved = await onCurrentFlow(deps, call);
    return moved.ok ? ok({ ...known, ...moved.value }) : moved;
  }
  const runner = deps.runners.of(compiled.value);
  const read = snapshot === null ? failed('unfit') : readStored(snapshot, compiled.value.hash);
  if (read.ok) return ok({ ...known, runner, snapshot: resolve(runner.machine, read.value) });
  const rebuilt = await rebuild(deps, call, compiled.value);
  return rebuilt.ok ? ok({ ...known, ...rebuilt.value }) : rebuilt;
}

/** The flow that the call runs on: of today's files, or kept from when the call used it; null when it is nowhere. */
async function flowOf(
  deps: LoadDeps,
  hash: FlowHash,
  operation: Operation | null,
): Promise<Result<CompiledFlow | null, Fault>> {
  const known = deps.runners.known(hash)?.compiled ?? flowOfToday(deps.flows, hash, operation);
  if (known !== null) return ok(known);
  const kept = await deps.keptFlows.read(hash);
  if (!kept.ok) return failed(fault('store-down', 'The script of this call cannot be read now.'));
  return ok(kept.value !== null && isOfThisFormat(kept.value) ? kept.value : null);
}

/** One that an earlier program compiled may lack what this one reads; the call then goes on with today's. */
function isOfThisFormat({ flow }: CompiledFlow): boolean {
  const format: number = flow.format;
  return format === FLOW_FORMAT;
}

/** A flow of several procedures is made only when asked for, as after a restart. */
function flowOfToday(flows: Flows, hash: FlowHash, operation: Operation | null): CompiledFlow | null {
  const known = flows.byHash(hash);
  if (known !== null || operation === null) return known;
  const combined = flows.flowFor(operation.procedures);
  return combined.hash === hash ? combined : null;
}
