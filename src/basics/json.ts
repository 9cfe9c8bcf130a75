/** Plain JSON data, and the one canonical text of it that hashes are taken over. */
export type Json = string | number | boolean | null | readonly Json[] | { readonly [key: string]: Json };

/** JSON text with object keys sorted, so that equal data always gives equal text. Undefined keys are left out. */
export function canonicalJson(value: unknown): string {
  if (value === undefined) return 'null';
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(',')}]`;
  const members: string[] = [];
  const entries: Readonly<Record<string, unknown>> = { ...value };
  for (const key of Object.keys(entries).sort()) {
    const inner = entries[key];
    if (inner !== undefined) members.push(`${JSON.stringify(key)}:${canonicalJson(inner)}`);
  }
  return `{${members.join(',')}}`;
}
