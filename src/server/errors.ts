/** The one table from a fault's code to an HTTP status and to the exit status of a command. */
import type { FaultCode } from '../basics/fault.ts';

export interface FaultAnswer {
  readonly status: number;
  /** 1: fell short of what was asked; 2: unusable input, nothing half done. */
  readonly exit: 1 | 2;
}

/** Statuses as RFC 9110 defines them. */
export const FAULT_ANSWERS = {
  'bad-request': { status: 400, exit: 2 },
  'not-found': { status: 404, exit: 2 },
  'not-now': { status: 409, exit: 1 },
  'out-of-range': { status: 422, exit: 2 },
  'needs-clinician': { status: 403, exit: 1 },
  'signed-out': { status: 401, exit: 1 },
  'not-allowed': { status: 403, exit: 1 },
  'too-many': { status: 429, exit: 1 },
  stale: { status: 409, exit: 1 },
  'store-down': { status: 503, exit: 2 },
  'flow-unloadable': { status: 500, exit: 2 },
} as const satisfies Readonly<Record<FaultCode, FaultAnswer>>;

export function statusOf(code: FaultCode): number {
  return FAULT_ANSWERS[code].status;
}
