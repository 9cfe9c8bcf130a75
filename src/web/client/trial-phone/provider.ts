/** Plays the telephone provider in the browser: asks the line what comes next and reads what it answers. */

export interface Ask {
  readonly action: string;
  readonly speech: boolean;
  readonly keys: boolean;
  readonly one: boolean;
}

export interface Ring {
  readonly action: string;
  readonly whisper: string;
  readonly telephone: string;
}

export interface Heard {
  readonly says: readonly string[];
  readonly ask: Ask | null;
  readonly ring: Ring | null;
  readonly hangsUp: boolean;
}

/** Null when the line did not answer in its language. */
export async function send(to: string, params: Readonly<Record<string, string>>): Promise<Heard | null> {
  const response = await fetch('/trial-phone/send', {
    method: 'POST',
    headers: { 'Content-Type': 'application/json', 'X-Call-Desk': 'trial' },
    body: JSON.stringify({ to, params }),
  });
  if (!response.ok) return null;
  const { status, body } = (await response.json()) as { status: number; body: string };
  if (status === 204) return { says: [], ask: null, ring: null, hangsUp: false };
  return status === 200 ? read(body) : null;
}

function read(xml: string): Heard | null {
  const tree = new DOMParser().parseFromString(xml, 'text/xml').documentElement;
  if (tree.tagName !== 'Response') return null;
  const gather = tree.querySelector('Gather');
  const dial = tree.querySelector('Dial');
  return {
    says: [...tree.querySelectorAll('Say')].map(({ textContent }) => textContent),
    ask: gather === null ? null : askOf(gather),
    ring: dial === null ? null : ringOf(dial),
    hangsUp: tree.querySelector('Hangup') !== null,
  };
}

function askOf(gather: Element): Ask {
  const input = gather.getAttribute('input') ?? 'dtmf';
  return {
    action: gather.getAttribute('action') ?? '',
    speech: input.includes('speech'),
    keys: input.includes('dtmf'),
    one: gather.getAttribute('numDigits') === '1',
  };
}

function ringOf(dial: Element): Ring {
  const number = dial.querySelector('Number');
  return {
    action: dial.getAttribute('action') ?? '',
    whisper: number?.getAttribute('url') ?? '',
    telephone: number?.textContent ?? '',
  };
}

/** 32 hexadecimal digits, as the provider's ids have them. */
export function newSid(random: string): string {
  return `CA${random.replaceAll('-', '').slice(0, 32)}`;
}
