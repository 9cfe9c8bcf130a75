/** The provider's signature, made from its published description alone: HMAC-SHA1 over the address and the sorted form. */
import { createHmac } from 'node:crypto';

export type Form = Readonly<Record<string, string>>;

/** `url` as it is configured, without a fragment; names sorted by their bytes, each followed by its value. */
export function sign(token: string, url: string, form: Form): string {
  const names = Object.keys(form).sort((a, b) => Buffer.compare(Buffer.from(a), Buffer.from(b)));
  const text = url.replace(/#.*$/s, '') + names.map((name) => `${name}${form[name] ?? ''}`).join('');
  return createHmac('sha1', token).update(text, 'utf8').digest('base64');
}
