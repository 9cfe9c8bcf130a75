/** JSON as it comes back from the columns: plain, or sealed under a key that may be gone. */
import type { Json } from '../basics/json.ts';
import { unseal } from './sealing.ts';
import type { Place } from './sealing.ts';

/** Null when nothing was sealed, the key is gone, or the text belongs elsewhere. */
export function unsealJson(key: Buffer | null, sealed: string | null, place: Place): Json | null {
  if (key === null || sealed === null) return null;
  const text = unseal(key, sealed, place);
  return text === null ? null : parseJson(text);
}

// Only texts that this folder wrote come back through here.
export function parseJson(text: string): Json {
  return JSON.parse(text) as Json;
}
