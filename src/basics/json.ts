/** Plain JSON data, and the one canonical text of it that hashes are taken over. */
export type Json = string | number | boolean | null | readonly Json[] | { readonly [key: string]: Json };

/** JSON text with object keys sorted, so that equal data always gives equal text. Undefined keys are left out. */
export function canonicalJson(value: unknown): string {
  return JSON.stringify(value, (_key, inner: unknown) => {
    if (typeof inner !== 'object' || inner === null || Array.isArray(inner)) return inner;
    return Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0)));
  });
}
