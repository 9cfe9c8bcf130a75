/** Loads a call with the machine of the flow it runs on; a snapshot that does not fit is rebuilt from the events. */
import { fault, type Fault } from '../basics/fault.ts';
import type { CallId } from '../basics/ids.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import type { CompiledFlow } from '../flow/compiled.ts';
import type { Operation, Patient } from '../people/patient.ts';
import type { CallHead, CallStore } from './call-store.ts';
import type { Flows } from './choose-flow.ts';
import type { Identifying } from './identify.ts';
import { rebuild } from './rebuild.ts';
import { readStored, resolve, type Snapshot } from './snapshot.ts';
import { begin, runnerOf, type Runner } from './step.ts';

export interface Loaded {
  /** Null for a call that is only beginning. */
  readonly head: CallHead | null;
  readonly seq: number;
  readonly runner: Runner;
  readonly snapshot: Snapshot;
  readonly patient: Patient | null;
  readonly operation: Operation | null;
}

/** One machine per flow hash, built once and kept. */
export interface Runners {
  readonly of: (compiled: CompiledFlow) => Runner;
}

export function makeRunners(): Runners {
  const known = new Map<string, Runner>();
  return {
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
  readonly runners: Runners;
  readonly identifying: Identifying;
}

export function newCall(deps: Pick<LoadDeps, 'flows' | 'runners'>): Loaded {
  const runner = deps.runners.of(deps.flows.general);
  return { head: null, seq: 0, runner, snapshot: begin(runner), patient: null, operation: null };
}

export async function loadCall(deps: LoadDeps, call: CallId): Promise<Result<Loaded, Fault>> {
  const stored = await deps.store.load(call);
  if (!stored.ok) return failed(fault('store-down', 'The record cannot be read now.'));
  if (stored.value === null) return failed(fault('not-found', 'There is no such call.'));
  const { head, seq, snapshot } = stored.value;
  const people = await deps.identifying.people(head.patientId, head.operationId);
  if (!people.ok) return people;
  const compiled = flowOf(deps.flows, head.flowHash, people.value.operation);
  if (compiled !== null && snapshot !== null) {
    const runner = deps.runners.of(compiled);
    const read = readStored(snapshot, compiled.hash);
    if (read.ok)
      return ok({ head, seq, runner, snapshot: resolve(runner.machine, read.value), ...people.value });
  }
  const rebuilt = await rebuild(deps, call, compiled ?? deps.flows.general);
  return rebuilt.ok ? ok({ head, seq, ...rebuilt.value, ...people.value }) : rebuilt;
}

/** The flow that the call runs on. One of several procedures is made only when asked for, as after a restart. */
function flowOf(flows: Flows, hash: string, operation: Operation | null): CompiledFlow | null {
  const known = flows.byHash(hash);
  if (known !== null || operation === null) return known;
  const combined = flows.flowFor(operation.procedures);
  return combined.hash === hash ? combined : null;
}
