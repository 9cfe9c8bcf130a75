/** What runs a plan on one kind of database, and so what each of the three has to do. */
import type { Result } from '../basics/result.ts';
import type { Plan, Written } from './plan.ts';

export interface Runner {
  readonly read: <TValue>(plan: () => Plan<TValue>) => Promise<Result<TValue, 'store-down'>>;
  /** As `read`, but all asks see the tables at one moment. */
  readonly readTogether: <TValue>(plan: () => Plan<TValue>) => Promise<Result<TValue, 'store-down'>>;
  /** All that the plan wrote or none of it, durable when it resolves. A defect rejects and leaves nothing behind. */
  readonly write: <TValue>(plan: () => Plan<Written<TValue>>) => Promise<Result<TValue, 'store-down'>>;
  /** After a write that destroyed keys: makes sure the old bytes do not linger where the database can help it. */
  readonly scrub: () => Promise<void>;
  readonly close: () => Promise<void>;
}
