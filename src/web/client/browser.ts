/** The only file of the page that touches the browser's clock, timers and chance. */

/** Both answer with what stops them. */
export function every(millis: number, task: () => void): () => void {
  const timer = setInterval(task, millis);
  return () => clearInterval(timer);
}

export function later(millis: number, task: () => void): () => void {
  const timer = setTimeout(task, millis);
  return () => clearTimeout(timer);
}

/** Unix milliseconds of this machine; for spans only, the practice's own time comes from the server. */
export function now(): number {
  return Date.now();
}

/** A new id, UUID version 7 (RFC 9562, section 5.7): 48 bits of time, then chance. */
export function newId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  const time = BigInt(Date.now());
  for (let at = 0; at < 6; at += 1) bytes[at] = Number((time >> BigInt(8 * (5 - at))) & 255n);
  bytes[6] = 0x70 | ((bytes[6] ?? 0) & 0x0f);
  bytes[8] = 0x80 | ((bytes[8] ?? 0) & 0x3f);
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}
