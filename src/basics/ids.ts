/** The only file that makes ids. They are time-ordered (UUID version 7, RFC 9562), so rows sort by age. */
import { v5, v7 } from 'uuid';

export type Brand<TName extends string> = string & { readonly __brand: TName };
export type CallId = Brand<'call'>;
export type PatientId = Brand<'patient'>;
export type OperationId = Brand<'operation'>;
export type StaffId = Brand<'staff'>;
export type PromiseId = Brand<'promise'>;
export type MessageId = Brand<'message'>;
export type FlowHash = Brand<'flow-hash'>;

/** Made once, and never changed: ids from another system's names are made in it. */
const NAMES = '5d0c6f6e-3f0b-4f5e-9d53-6a0f6b0f7c11';

/** The id of a call that another system has named: the same name gives the same id (UUID version 5). */
export function callIdFrom(name: string): CallId {
  return v5(name, NAMES) as CallId;
}

export function newId<TId extends string>(): TId {
  return v7() as TId;
}
