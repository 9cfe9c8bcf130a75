/** What came back from a prompt: keys, speech, silence, or something the caller wants of the line instead. */
import { ASIDE_SAYINGS, type LineWords } from './words.ts';

export type Params = Readonly<Record<string, unknown>>;

export type Wish = (typeof ASIDE_SAYINGS)[number];

export type Reply =
  | { readonly kind: 'silence' }
  | { readonly kind: 'wish'; readonly wish: Wish; readonly text: string; readonly how: 'speech' | 'keys' }
  | { readonly kind: 'keys'; readonly keys: string }
  | { readonly kind: 'speech'; readonly text: string; readonly confidence: number };

const MOST = 2000;

/** Absent and empty are the same. A confidence that is missing or no number is none at all. */
export function readReply(params: Params, single: boolean, words: LineWords): Reply {
  const keys = textOf(params['Digits'])
    .replace(/[^\d*#]/g, '')
    .slice(0, 30);
  if (keys !== '') return keyed(keys, single);
  const text = textOf(params['SpeechResult']).slice(0, MOST).trim();
  if (text === '') return { kind: 'silence' };
  const wish = wishOf(text, words);
  if (wish !== null) return { kind: 'wish', wish, text, how: 'speech' };
  const confidence = Number(textOf(params['Confidence']));
  return { kind: 'speech', text, confidence: confidence >= 0 && confidence <= 1 ? confidence : 0 };
}

export function textOf(value: unknown): string {
  return typeof value === 'string' ? value : '';
}

const SINGLE: Readonly<Record<string, Wish>> = {
  '0': 'person',
  '9': 'repeat',
  '*': 'back',
  '7': 'keys-only',
};
/** Where a number is keyed, 7 and 9 are digits. */
const SEVERAL: Readonly<Record<string, Wish>> = { '0': 'person', '*': 'back' };

function keyed(keys: string, single: boolean): Reply {
  const bare = keys.replaceAll('#', '');
  const wish = (single ? SINGLE : SEVERAL)[bare];
  if (wish !== undefined) return { kind: 'wish', wish, text: bare, how: 'keys' };
  return bare === '' ? { kind: 'silence' } : { kind: 'keys', keys: bare };
}

function wishOf(text: string, { asides }: LineWords): Wish | null {
  const said = folded(text);
  const found = ASIDE_SAYINGS.find((wish) => {
    const { whole, within } = asides[wish];
    if (whole.some((one) => folded(one) === said)) return true;
    return isPlainWish(wish, said) && within.some((one) => holds(said, folded(one)));
  });
  return found ?? null;
}

const SHORT = 9;

/** In a long tale "go back" is about work; whoever wants a person says so in any length. */
function isPlainWish(wish: Wish, said: string): boolean {
  return LONG_TOO.includes(wish) || said.split(' ').length <= SHORT;
}

const LONG_TOO: readonly Wish[] = ['person', 'interpreter', 'keys-only'];

/** Lower-case words with single blanks. */
export function folded(text: string): string {
  return text
    .toLowerCase()
    .replaceAll('’', "'")
    .replace(/[^\p{L}\p{N}' ]+/gu, ' ')
    .replace(/\s+/g, ' ')
    .trim();
}

export function holds(text: string, words: string): boolean {
  return ` ${text} `.includes(` ${words} `);
}

/** Whether a yes or a no was meant; null when neither. */
export function readYesNo(reply: Reply, words: LineWords): boolean | null {
  if (reply.kind === 'keys') return reply.keys === '1' ? true : reply.keys === '2' ? false : null;
  if (reply.kind !== 'speech' && reply.kind !== 'wish') return null;
  const said = folded(reply.text);
  const isNo = words.no.some((one) => said === folded(one)) || /^(no|nope|nah)\b/.test(said);
  if (isNo) return false;
  return words.yes.some((one) => said === folded(one)) || /^(yes|yeah|yep)\b/.test(said) ? true : null;
}
