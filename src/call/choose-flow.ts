/** Which flow a call runs on. No call is refused: where no flow fits, the short general flow runs. */
import type { CompiledFlow } from '../flow/compiled.ts';
import { LAST_DAY, type TimeSince } from '../clinical/window.ts';

/** The flows a call can run on, as the composition provides them. */
export interface Flows {
  readonly general: CompiledFlow;
  /** The general flow where any of the procedures has none. */
  readonly flowFor: (procedures: readonly string[], surgeon?: string | null) => CompiledFlow;
  readonly byHash: (hash: string) => CompiledFlow | null;
  /** Whoever signed it has taken that back; a call that runs on it goes to a person. Left out: nothing is signed here. */
  readonly isWithdrawn?: (hash: string) => boolean;
}

export interface Fitting {
  readonly procedures: readonly string[];
  /** As the record names the surgeon; null is unknown, and then nobody's own rules apply. */
  readonly surgeon: string | null;
  readonly times: readonly TimeSince[];
  /** Whole years; null is unknown and does not exclude. */
  readonly age: number | null;
  readonly pregnant: boolean | null;
}

const ADULT = 16;

/** General: before the operation, after day 365, no known day, under 16, pregnant, or an operation without a flow. */
export function chooseFlow(flows: Flows, fitting: Fitting): CompiledFlow {
  const young = fitting.age !== null && fitting.age < ADULT;
  const outside = fitting.times.some(({ day }) => day === null || day < 0 || day > LAST_DAY);
  if (young || outside || fitting.pregnant === true || fitting.times.length === 0) return flows.general;
  return flows.flowFor(fitting.procedures, fitting.surgeon);
}
