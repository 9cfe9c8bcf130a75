/** Asks the desk's server; every answer is read through the contract's schema. A fault is a value, and so is silence. */
import { faultSchema, type FaultShape } from '../../desk/contract/common.ts';

/** What the page needs of a schema: to read an answer, or say that it does not fit. */
interface Schema<TValue> {
  readonly safeParse: (
    body: unknown,
  ) => { readonly success: true; readonly data: TValue } | { readonly success: false };
}

export type Answer<TValue> = { readonly ok: true; readonly value: TValue } | Refused;

export interface Refused {
  readonly ok: false;
  /** silent: nothing came back that can be read; signed-out: the session is over; fault: the server says why not. */
  readonly why: 'silent' | 'signed-out' | 'fault';
  readonly fault: FaultShape | null;
}

export function get<TValue>(path: string, schema: Schema<TValue>): Promise<Answer<TValue>> {
  return ask(path, { method: 'GET' }, schema);
}

/** The body carries a token, so that the same body may be sent again. */
export function post<TValue>(path: string, body: unknown, schema: Schema<TValue>): Promise<Answer<TValue>> {
  const headers = { 'Content-Type': 'application/json', 'X-Call-Desk': 'page' };
  return ask(path, { method: 'POST', headers, body: JSON.stringify(body) }, schema);
}

const SILENT: Refused = { ok: false, why: 'silent', fault: null };

async function ask<TValue>(
  path: string,
  request: RequestInit,
  schema: Schema<TValue>,
): Promise<Answer<TValue>> {
  try {
    const response = await fetch(path, { ...request, credentials: 'same-origin', cache: 'no-store' });
    const body: unknown = await response.json();
    return response.ok ? read(body, schema) : refused(response.status, body);
  } catch {
    return SILENT;
  }
}

function read<TValue>(body: unknown, schema: Schema<TValue>): Answer<TValue> {
  const parsed = schema.safeParse(body);
  return parsed.success ? { ok: true, value: parsed.data } : SILENT;
}

function refused(status: number, body: unknown): Refused {
  const parsed = faultSchema.safeParse(body);
  if (status === 401) return { ok: false, why: 'signed-out', fault: parsed.success ? parsed.data : null };
  return parsed.success ? { ok: false, why: 'fault', fault: parsed.data } : SILENT;
}

/** Sending the same again may succeed. */
export function mayRetry({ why, fault }: Refused): boolean {
  return why !== 'fault' || ['store-down', 'defect'].includes(fault?.fault.code ?? '');
}
