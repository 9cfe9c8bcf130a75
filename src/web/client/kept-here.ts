/** What this browser keeps by itself: small JSON under a name, which a full or forbidden storage simply loses. */

export function keptHere(name: string): unknown {
  try {
    const text = localStorage.getItem(nameOf(name));
    return text === null ? null : (JSON.parse(text) as unknown);
  } catch {
    return null;
  }
}

/** Null removes it. */
export function keepHere(name: string, data: unknown): void {
  try {
    if (data === null) localStorage.removeItem(nameOf(name));
    else localStorage.setItem(nameOf(name), JSON.stringify(data));
  } catch {
    // Without storage a crash loses what was not sent; the page itself still has it.
  }
}

function nameOf(name: string): string {
  return `call-desk:${name}`;
}
