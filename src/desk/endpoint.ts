/** What an endpoint is: a request's parts in, an answer of the contract or a fault out. */
import type { z } from 'zod';
import { fault, type Fault } from '../basics/fault.ts';
import { failed, ok, type Result } from '../basics/result.ts';
import type { SignedIn } from '../people/staff.ts';
import type { DeskDeps } from './deps.ts';

/** The parts of a request that endpoints read; all but `who` is untrusted. */
export interface DeskRequest {
  readonly who: SignedIn;
  readonly id: string;
  readonly query: string;
  /** Every part of the query that is one text. */
  readonly search: Readonly<Record<string, string>>;
  /** Where a long list goes on. */
  readonly before: string;
  readonly body: unknown;
}

export type Endpoint = (deps: DeskDeps, request: DeskRequest) => Promise<Result<unknown, Fault>>;

/** A body of the contract's shape, or a fault that names the place and never what was sent. */
export function readBody<TBody>(schema: z.ZodType<TBody>, body: unknown): Result<TBody, Fault> {
  const parsed = schema.safeParse(body);
  if (parsed.success) return ok(parsed.data);
  const [issue] = parsed.error.issues;
  const place =
    issue === undefined || issue.path.length === 0 ? 'the body' : issue.path.map(String).join('.');
  return failed(fault('bad-request', `What was sent does not fit at ${place.slice(0, 80)}.`));
}
