/** One flow made ready for proving: its tables, the moments that its rules tell apart, and the functions it is proved of. */
import type { Findings } from '../clinical/finding.ts';
import { rank, type Outcome } from '../clinical/outcome.ts';
import type { TimeSince } from '../clinical/window.ts';
import { agenda } from '../call/agenda.ts';
import { assess } from '../call/assess.ts';
import { freshCircumstances } from '../call/circumstances.ts';
import { settle } from '../call/settle.ts';
import type { CompiledFlow, Flow } from '../flow/compiled.ts';
import type { Domain, DomainFinding } from './domain.ts';
import { memoryOf, ruleNumbers, thresholdsNumber, type Memory } from './memory.ts';
import { momentAt, tablesOf, type Moment, type Tables } from './tables.ts';
import { timeClasses, type TimeClass } from './times.ts';

/** The functions that decide a call. A proof takes them as given so that a broken one can be shown to be noticed. */
export interface Deciders {
  readonly assess: typeof assess;
  readonly agenda: typeof agenda;
  readonly settle: typeof settle;
}

export const REAL_DECIDERS: Deciders = { assess, agenda, settle };

export interface NumberedFinding extends DomainFinding {
  readonly number: number;
}

export interface Subject {
  readonly compiled: CompiledFlow;
  readonly flow: Flow;
  readonly deciders: Deciders;
  /** What the flow, and those proved with the same memory, can tell apart. */
  readonly domain: Domain;
  /** The findings of the domain that the flow has. */
  readonly findings: readonly NumberedFinding[];
  readonly tables: Tables;
  /** One for each class of moments that the rules tell apart. */
  readonly moments: readonly Moment[];
  /** The moments of each of these classes, in the same order. */
  readonly ruleClasses: readonly TimeClass[];
  /** By rule, the number under which its conditions are remembered; and that of all thresholds. */
  readonly ruleKeys: readonly number[];
  readonly thresholdsKey: number;
  readonly memory: Memory;
  /** Classes that rules, questions and texts together tell apart. */
  readonly classes: readonly TimeClass[];
}

export function subjectOf(
  compiled: CompiledFlow,
  deciders: Deciders = REAL_DECIDERS,
  memory: Memory = memoryOf([compiled.flow]),
): Subject {
  const { flow } = compiled;
  const { domain } = memory;
  const tables = tablesOf(flow, domain);
  const rules = flow.rules.map(({ window }) => window);
  const ruleClasses = timeClasses(rules, memory.windows);
  const moments = ruleClasses.map(({ at }) => momentAt(tables, at));
  const texts = [...flow.questions, ...flow.aftercare, ...flow.safetyNet, ...flow.normal];
  return {
    compiled,
    flow,
    deciders,
    domain,
    findings: domain.findings.flatMap((one, number) =>
      flow.findings[one.spec.id] === undefined ? [] : [{ ...one, number }],
    ),
    tables,
    moments,
    ruleClasses,
    ruleKeys: ruleNumbers(memory, flow),
    thresholdsKey: thresholdsNumber(memory, flow),
    memory,
    classes: timeClasses([...rules, ...texts.map(({ window }) => window)], memory.windows),
  };
}

/** What the deciding function itself says of these findings on a call that has only begun. */
export function decided({ deciders, flow }: Subject, at: TimeSince, findings: Findings): Outcome {
  return deciders.assess(flow, freshCircumstances(at), findings).outcome;
}

/** What the tables say has to be what the deciding function says; anything else is a mistake in the prover. */
export function confirm(outcome: Outcome, expected: number): void {
  if (rank(outcome) === expected) return;
  throw new Error(
    `The tables come to rank ${String(expected)}, the deciding function to ${String(rank(outcome))}`,
  );
}

/** The moment that each possible time falls into. */
export function momentsByTime({ ruleClasses, moments }: Subject): ReadonlyMap<TimeSince, Moment> {
  const byTime = new Map<TimeSince, Moment>();
  for (const [at, { times }] of ruleClasses.entries()) {
    const moment = moments[at];
    if (moment !== undefined) for (const time of times) byTime.set(time, moment);
  }
  return byTime;
}
