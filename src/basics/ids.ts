/** The only file that makes ids. They are time-ordered (UUID version 7, RFC 9562), so rows sort by age. */
import { v7 } from 'uuid';

export type Brand<TName extends string> = string & { readonly __brand: TName };
export type CallId = Brand<'call'>;
export type PatientId = Brand<'patient'>;
export type OperationId = Brand<'operation'>;
export type StaffId = Brand<'staff'>;
export type PromiseId = Brand<'promise'>;
export type MessageId = Brand<'message'>;
export type FlowHash = Brand<'flow-hash'>;

export function newId<TId extends string>(): TId {
  return v7() as TId;
}
