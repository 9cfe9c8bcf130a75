/** Writes HTML from templates: every value is escaped unless it is HTML already. */
import { escapeHtml } from '../escape-html.ts';

export interface Html {
  readonly html: string;
}

type Value = string | number | Html | null | readonly Html[];

export function html(parts: TemplateStringsArray, ...values: readonly Value[]): Html {
  const text = parts.reduce((before, part, at) => `${before}${written(values[at - 1] ?? null)}${part}`);
  return { html: text };
}

function written(value: Value): string {
  if (value === null) return '';
  if (typeof value === 'string' || typeof value === 'number') return escapeHtml(String(value));
  return 'html' in value ? value.html : value.map((one) => one.html).join('');
}
