/** Asks the desk's server. A fault is a value; so is a server that does not answer. */
import type { FaultShape } from '../../desk/contract/common.ts';

export type Answer<TValue> =
  { readonly ok: true; readonly value: TValue } | { readonly ok: false; readonly fault: FaultShape | null };

export function get<TValue>(path: string): Promise<Answer<TValue>> {
  return ask<TValue>(path, { method: 'GET' });
}

/** The body carries a token, so that the same body may be sent again. */
export function post<TValue>(path: string, body: unknown): Promise<Answer<TValue>> {
  const headers = { 'Content-Type': 'application/json', 'X-Call-Desk': 'page' };
  return ask<TValue>(path, { method: 'POST', headers, body: JSON.stringify(body) });
}

async function ask<TValue>(path: string, request: RequestInit): Promise<Answer<TValue>> {
  try {
    const response = await fetch(path, { ...request, credentials: 'same-origin', cache: 'no-store' });
    const body: unknown = await response.json();
    // The server's tests hold every answer against the schema that this type comes from.
    if (response.ok) return { ok: true, value: body as TValue };
    return { ok: false, fault: body as FaultShape };
  } catch {
    return { ok: false, fault: null };
  }
}
