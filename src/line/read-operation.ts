/** Hears which operation it was and how many days ago, from what a caller says or keys. */
import { folded, holds } from './read-reply.ts';
import type { LineWords } from './words.ts';

/** Procedures in the order of the list that is read out. */
export function procedureList({ procedures }: LineWords): readonly string[] {
  return Object.keys(procedures).toSorted();
}

/** Every procedure that is named; a longer name counts before a shorter one inside it. */
export function proceduresIn(text: string, words: LineWords): readonly string[] {
  const said = folded(text).replaceAll('-', ' ');
  const names = Object.entries(words.procedures)
    .flatMap(([id, names_]) => names_.map((name) => ({ id, name: folded(name) })))
    .toSorted((a, b) => b.name.length - a.name.length);
  let left = ` ${said} `;
  const found = new Set<string>();
  for (const { id, name } of names) {
    if (!holds(left.trim(), name)) continue;
    found.add(id);
    left = left.replaceAll(` ${name} `, '  ');
  }
  return [...found];
}

const ONES =
  'zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen'.split(' ');
const MORE = 'sixteen seventeen eighteen nineteen twenty'.split(' ');
const NUMBERS: ReadonlyMap<string, number> = new Map([
  ...[...ONES, ...MORE].map((word, at) => [word, at] as const),
  ['a', 1],
  ['an', 1],
  ['couple', 2],
  ['thirty', 30],
  ['forty', 40],
  ['fifty', 50],
  ['sixty', 60],
]);
const UNITS: Readonly<Record<string, number>> = {
  day: 1,
  night: 1,
  week: 7,
  fortnight: 14,
  month: 30,
  year: 365,
};

export interface Ago {
  readonly days: number | null;
  /** Only where hours were said. */
  readonly hours: number | null;
}

const UNKNOWN: Ago = { days: null, hours: null };

/** Null where nothing was said of it; months and years are counted round. */
export function agoIn(text: string): Ago {
  const said = folded(text).replaceAll(' couple of ', ' couple ');
  if (/\b(today|this morning|this afternoon|this evening)\b/.test(said)) return { days: 0, hours: null };
  if (/\bday before yesterday\b/.test(said)) return { days: 2, hours: null };
  if (/\b(yesterday|last night)\b/.test(said)) return { days: 1, hours: null };
  const words = said.split(' ');
  for (const [at, word] of words.entries()) {
    const unit = word.replace(/s$/, '');
    if (unit === 'hour') {
      const hours = numberBefore(words, at);
      if (hours !== null) return { days: null, hours };
    }
    const days = UNITS[unit];
    if (days === undefined) continue;
    const after = unit === 'day' ? numberAt(words[at + 1]) : null;
    const many = numberBefore(words, at) ?? after;
    if (many !== null) return { days: many * days, hours: null };
  }
  return UNKNOWN;
}

function numberAt(word: string | undefined): number | null {
  if (word === undefined) return null;
  if (/^\d{1,3}$/.test(word)) return Number(word);
  return NUMBERS.get(word) ?? null;
}

function numberBefore(words: readonly string[], at: number): number | null {
  const last = numberAt(words[at - 1]);
  if (last === null) return null;
  const tens = numberAt(words[at - 2]);
  return tens !== null && tens >= 20 && tens % 10 === 0 && last > 0 && last < 10 ? tens + last : last;
}
