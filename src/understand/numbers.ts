/**
 * Reads numbers said in words or figures. Written here rather than taken from a library: the known ones read "thirty
 * eight five" as two numbers, "three out of ten" as 0.3 and "two and a half" as two, and all three are answers here.
 */
import { DASH, DIGITS, ONE_DIGIT, SLASH } from './expressions.ts';
import type { Word } from './fold-words.ts';
import type { Span } from './patterns.ts';

export interface SaidNumber extends Span {
  /** The values that were said: one, or both ends of "seven or eight". */
  readonly values: readonly number[];
  /** "Out of ten" was said with it. */
  readonly outOfTen: boolean;
}

const ONES =
  'zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen'.split(
    ' ',
  );
const TENS = 'twenty thirty forty fifty sixty seventy eighty ninety'.split(' ');
const UNITS = new Map(ONES.map((word, value) => [word, value]));
const TEN_FOLD = new Map(TENS.map((word, at) => [word, (at + 2) * 10]));
const ODD: ReadonlyMap<string, number> = new Map([
  ['fourty', 40],
  ['nought', 0],
  ['nil', 0],
  ['couple', 2],
  ['dozen', 12],
  ['half', 0.5],
  ['quarter', 0.25],
]);

/** Never taken for a slip of another word. */
export const NUMBER_WORDS: readonly string[] = [...ONES, ...TENS, ...ODD.keys(), 'hundred', 'point'];

const SPANS: ReadonlySet<string> = new Set(['hour', 'day', 'week', 'litre', 'gram', 'minute']);

const LEADS_SPAN: ReadonlySet<string> = new Set(
  'about nearly over roughly say maybe been around almost'.split(' '),
);

/** "A week", "about a week": a time since, where "twice a week" says how often. */
function isWholeSpan(words: readonly Word[], at: number): boolean {
  const next = words[at + 1]?.text;
  return (next === 'week' || next === 'fortnight') && (at === 0 || LEADS_SPAN.has(words[at - 1]?.text ?? ''));
}

interface Read {
  readonly value: number;
  readonly end: number;
}

/** All numbers, in the order in which they were said. */
export function findNumbers(text: string, words: readonly Word[]): readonly SaidNumber[] {
  const found: SaidNumber[] = [];
  for (let at = 0; at < words.length;) {
    const read = isOneOf(words, at) || isScale(words, at) ? null : readNumber(words, at);
    if (read === null) {
      at += 1;
      continue;
    }
    const last = found.at(-1);
    const end = endOfScale(text, words, read.end);
    const outOfTen = end > read.end;
    if (last !== undefined && isRange(text, words, { start: last.end, end: at })) {
      found[found.length - 1] = { start: last.start, end, values: [...last.values, read.value], outOfTen };
    } else found.push({ start: at, end, values: [read.value], outOfTen });
    at = end;
  }
  return found;
}

const BEFORE_ONE: ReadonlySet<string> = new Set(
  'left right other this that which only just any every each good bad big wee new old no quick first last next same'.split(
    ' ',
  ),
);
const AFTER_ONE: ReadonlySet<string> = new Set('side of breast leg eye more thing and is got has'.split(' '));

/** "The left one", "one of them", "one side": no number. */
function isOneOf(words: readonly Word[], at: number): boolean {
  if (words[at]?.text !== 'one') return false;
  const isOfMine = ['my', 'me'].includes(words[at - 1]?.text ?? '');
  return (
    isOfMine || BEFORE_ONE.has(words[at - 1]?.text ?? '') || (at === 0 && AFTER_ONE.has(words[1]?.text ?? ''))
  );
}

function isOf(word: Word | undefined): boolean {
  return word?.text === 'of' || word?.text === 'o';
}

/** "Out of ten, seven": the scale and no number. */
function isScale(words: readonly Word[], at: number): boolean {
  const isTen = words[at]?.text === 'ten' || words[at]?.text === '10';
  return isTen && words[at - 2]?.text === 'out' && isOf(words[at - 1]);
}

/** Where "out of ten" or "/10" ends; the place itself where neither follows. */
function endOfScale(text: string, words: readonly Word[], at: number): number {
  const isTen = (word: Word | undefined): boolean => word?.text === 'ten' || word?.text === '10';
  if (words[at]?.text === 'out' && isOf(words[at + 1]) && isTen(words[at + 2])) return at + 3;
  if (words[at]?.text === 'on' && isTen(words[at + 1])) return at + 2;
  const between = text.slice(words[at - 1]?.to ?? 0, words[at]?.from ?? 0);
  return isTen(words[at]) && SLASH.test(between) ? at + 1 : at;
}

/** "seven or eight", "seven to eight", "seven, eight", "7-8". */
function isRange(text: string, words: readonly Word[], { start, end }: Span): boolean {
  const between = text.slice(words[start - 1]?.to ?? 0, words[end]?.from ?? 0);
  if (end === start) return DASH.test(between) || isPair(text, words, start);
  if (end === start + 2 && words[start]?.text === 'maybe') return words[start + 1]?.text === 'even';
  const joint = words[start]?.text ?? '';
  if (end === start + 1) return joint === 'or' || joint === 'to' || joint === 'maybe' || joint === 'over';
  return end === start + 2 && joint === 'or' && words[start + 1]?.text === 'even';
}

/** "7/8" is a pair; "8/10" is eight out of ten. */
function isPair(text: string, words: readonly Word[], at: number): boolean {
  const between = text.slice(words[at - 1]?.to ?? 0, words[at]?.from ?? 0);
  return SLASH.test(between) && words[at]?.text !== '10';
}

/** The number that begins at this word; null where none does. */
function readNumber(words: readonly Word[], at: number): Read | null {
  const word = words[at]?.text ?? '';
  if (DIGITS.test(word))
    return withFraction(words, { value: Number(word.replace(',', '.')), end: at + 1 }, at);
  const whole = readHundreds(words, at);
  return whole === null ? null : withFraction(words, whole, at);
}

function readHundreds(words: readonly Word[], at: number): Read | null {
  const first = words[at]?.text ?? '';
  if (first === 'a' || first === 'one') {
    const next = words[at + 1]?.text;
    if (next === 'hundred') return afterHundred(words, { value: 100, end: at + 2 });
    // "one o two" is a hundred and two, "one thirty" a hundred and thirty.
    if (first === 'one' && (next === 'o' || next === 'oh')) {
      const unit = UNITS.get(words[at + 2]?.text ?? '');
      if (unit !== undefined && unit < 10) return { value: 100 + unit, end: at + 3 };
    }
    if (first === 'one' && TEN_FOLD.has(next ?? '')) {
      const rest = readBelowHundred(words, at + 1);
      if (rest !== null) return { value: 100 + rest.value, end: rest.end };
    }
    if (first === 'a' && isWholeSpan(words, at)) return { value: 1, end: at + 1 };
    if (first === 'a')
      return next === 'couple' || next === 'dozen' || next === 'half' || next === 'quarter'
        ? readHundreds(words, at + 1)
        : null;
  }
  if (first === 'an' && SPANS.has(words[at + 1]?.text ?? '')) return { value: 1, end: at + 1 };
  if (first === 'hundred') return afterHundred(words, { value: 100, end: at + 1 });
  const odd = ODD.get(first);
  // "Half an hour" is one number, not a half and an hour.
  const isOfOne = first === 'half' && words[at + 1]?.text === 'an';
  if (first === 'quarter' && isOf(words[at + 1]) && words[at + 2]?.text === 'an')
    return { value: 0.25, end: at + 3 };
  if (odd !== undefined) return { value: odd, end: isOfOne ? at + 2 : at + 1 };
  const small = readBelowHundred(words, at);
  if (small === null || words[small.end]?.text !== 'hundred') return small;
  return afterHundred(words, { value: small.value * 100, end: small.end + 1 });
}

function afterHundred(words: readonly Word[], hundred: Read): Read {
  const from = words[hundred.end]?.text === 'and' ? hundred.end + 1 : hundred.end;
  const rest = readBelowHundred(words, from);
  return rest === null ? hundred : { value: hundred.value + rest.value, end: rest.end };
}

function readBelowHundred(words: readonly Word[], at: number): Read | null {
  const word = words[at]?.text ?? '';
  const tens = TEN_FOLD.get(word);
  if (tens === undefined) {
    const unit = UNITS.get(word);
    return unit === undefined ? null : { value: unit, end: at + 1 };
  }
  const unit = UNITS.get(words[at + 1]?.text ?? '');
  return unit !== undefined && unit > 0 && unit < 10
    ? { value: tens + unit, end: at + 2 }
    : { value: tens, end: at + 1 };
}

/** "point five", "and a half", and a lone figure after a temperature: "thirty eight five" (said for 38.5). */
function withFraction(words: readonly Word[], whole: Read, at: number): Read {
  const next = words[whole.end]?.text;
  if (next === 'point' || next === 'dot') {
    const digits: number[] = [];
    for (let to = whole.end + 1; digits.length < 2; to += 1) {
      const said = words[to]?.text ?? '';
      const digit = DIGITS.test(said)
        ? Number(said)
        : (UNITS.get(said) ?? (said === 'o' || said === 'oh' ? 0 : NaN));
      if (!(digit < 10)) break;
      digits.push(digit);
    }
    if (digits.length > 0) {
      const value = Number(`${String(whole.value)}.${digits.join('')}`);
      return { value, end: whole.end + 1 + digits.length };
    }
  }
  const isHalved = (at: number): boolean => next === 'and' && words[at]?.text === 'half';
  const tenth = spacedTenth(words, whole, at);
  if (tenth !== null) return tenth;
  if (isHalved(whole.end + 1)) return { value: whole.value + 0.5, end: whole.end + 2 };
  if (words[whole.end + 1]?.text === 'a' && isHalved(whole.end + 2)) {
    return { value: whole.value + 0.5, end: whole.end + 3 };
  }
  const digit = UNITS.get(next ?? '') ?? NaN;
  const spoken = whole.end - at >= 2 && whole.value >= 34 && whole.value <= 43;
  const between = words[whole.end]?.clause === words[whole.end - 1]?.clause;
  return spoken && between && digit < 10 ? { value: whole.value + digit / 10, end: whole.end + 1 } : whole;
}

const COUNTED: ReadonlySet<string> = new Set(
  'hour hours day days minutes mins times tablets pills weeks nights out to or of'.split(' '),
);

/** "38 4": a temperature with its tenth after a space; "38 4 hours ago" is none. */
function spacedTenth(words: readonly Word[], whole: Read, at: number): Read | null {
  const said = words[whole.end]?.text ?? '';
  const isOne = whole.end === at + 1 && DIGITS.test(words[at]?.text ?? '') && Number.isInteger(whole.value);
  const isWarm = whole.value >= 34 && whole.value <= 43;
  const isOneClause = words[whole.end]?.clause === words[at]?.clause;
  if (!isOne || !isWarm || !isOneClause || !ONE_DIGIT.test(said)) return null;
  if (COUNTED.has(words[whole.end + 1]?.text ?? '')) return null;
  return { value: whole.value + Number(said) / 10, end: whole.end + 1 };
}
