/** Turns times said by the clock or the day into how long ago they were: "not since ten last night", "yesterday". */
import type { Word } from './fold-words.ts';
import type { Measured } from './measures.ts';
import type { SaidNumber } from './numbers.ts';

export interface Moment {
  /** Hour of the day on the caller's clock, 0 to 23; null when it is not known: then clock times say nothing. */
  readonly hour: number | null;
  readonly day: number | null;
}

interface Said {
  readonly words: readonly Word[];
  readonly numbers: readonly SaidNumber[];
}

const NIGHT: ReadonlySet<string> = new Set(['night', 'evening', 'tonight']);
const AFTERNOON: ReadonlySet<string> = new Set(['afternoon', 'teatime', 'pm']);

const NAMED_HOURS: ReadonlyMap<string, number> = new Map([
  ['midnight', 0],
  ['noon', 12],
  ['midday', 12],
]);

/** Hours since a clock time that stands with "last night", "this morning" or "yesterday"; null when there is none. */
export function hoursSince({ words, numbers }: Said, { hour }: Moment): Measured | null {
  if (hour === null) return null;
  const named = words.findIndex(({ text }) => NAMED_HOURS.has(text));
  if (named >= 0 && numbers.length === 0) {
    const ago = (hour + 24 - (NAMED_HOURS.get(words[named]?.text ?? '') ?? 0)) % 24;
    return { finding: 'hours-since-urine', value: ago, start: named, end: named + 1 };
  }
  for (const number of numbers) {
    const said = number.values[0] ?? 0;
    const after = words.slice(number.end, number.end + 3).map(({ text }) => text);
    const isYesterday = after.includes('yesterday') || after[0] === 'last';
    const isLate = after.some((word) => NIGHT.has(word) || AFTERNOON.has(word));
    const isMorning = after.includes('morning') || after.includes('am');
    if (!isYesterday && !isLate && !isMorning) continue;
    if (said < 1 || said > 12) continue;
    const clock = isLate ? (said % 12) + 12 : said % 12;
    const ago = isYesterday || (isLate && clock > hour) ? hour + 24 - clock : hour - clock;
    if (ago >= 0) return { finding: 'hours-since-urine', value: ago, start: number.start, end: number.end };
  }
  return null;
}

/** Days since: "yesterday", "this morning", "since the operation"; null when none of them was said. */
export function daysSince({ words }: Said, { day }: Moment): Measured | null {
  const text = ` ${words.map((word) => word.text).join(' ')} `;
  const says = (...ways: readonly string[]): boolean => ways.some((way) => text.includes(` ${way} `));
  const at = (value: number): Measured => {
    return { finding: 'days-since-bowels', value, start: 0, end: words.length };
  };
  if (says('day before yesterday')) return at(2);
  if (
    says(
      'since the op',
      'since the operation',
      'since surgery',
      'since my op',
      'since the day of',
      'since my operation',
      'since my surgery',
    )
  ) {
    return day === null ? null : at(day);
  }
  if (says('yesterday', 'last night')) return at(1);
  if (says('today', 'this morning', 'earlier', 'just now')) return at(0);
  return null;
}
