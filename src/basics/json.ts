/** Plain JSON data, and the one canonical text of it that hashes are taken over. */
export type Json = string | number | boolean | null | readonly Json[] | { readonly [key: string]: Json };

/** Texts longer than this are put together again each time: a whole flow is asked for its text once. */
const LONGEST_KEPT = 20_000;

/** The forms that were made here, each with its text once that was asked for. */
const forms = new WeakMap<object, { text: string | null }>();

/** JSON text with object keys sorted, so that equal data always gives equal text. Undefined keys are left out. */
export function canonicalJson(value: unknown): string {
  if (value === undefined) return 'null';
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  const form = forms.get(value);
  if (form?.text !== undefined && form.text !== null) return form.text;
  const text = Array.isArray(value) ? `[${value.map(canonicalJson).join(',')}]` : objectText(value);
  if (form !== undefined && text.length <= LONGEST_KEPT) form.text = text;
  return text;
}

function objectText(value: object): string {
  const members: string[] = [];
  const entries: Readonly<Record<string, unknown>> = { ...value };
  for (const key of Object.keys(entries).sort()) {
    const inner = entries[key];
    if (inner !== undefined) members.push(`${JSON.stringify(key)}:${canonicalJson(inner)}`);
  }
  return `{${members.join(',')}}`;
}

/**
 * What reading the canonical text again would give, frozen through and through. A form, and whatever part of a value is
 * one already, stays the same object, so that flows with the same rule hold it once.
 */
export function canonicalForm<TValue>(value: TValue): TValue {
  if (typeof value !== 'object' || value === null || forms.has(value)) return value;
  const copy: unknown = Array.isArray(value)
    ? value.map((inner: unknown) => (inner === undefined ? null : canonicalForm(inner)))
    : Object.fromEntries(
        Object.entries(value)
          .filter(([, inner]) => inner !== undefined)
          .sort(([a], [b]) => (a < b ? -1 : 1))
          .map(([key, inner]) => [key, canonicalForm(inner)]),
      );
  const form = Object.freeze(copy) as TValue & object;
  forms.set(form, { text: null });
  return form;
}
