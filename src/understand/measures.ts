/** Turns numbers that were said into findings: which measure a number is, in which unit, and of two the worse. */
import { isValueOf, type FindingSpec, type FindingValue, type Vocabulary } from '../clinical/finding.ts';
import { celsius, readTemperature, type TemperatureUnit } from '../clinical/temperature.ts';
import type { Word } from './fold-words.ts';
import type { Lexicon, Measure } from './lexicon.ts';
import type { SaidNumber } from './numbers.ts';
import type { Span } from './patterns.ts';

export interface Measured extends Span {
  readonly finding: string;
  readonly value: FindingValue;
}

const REACH_BEFORE = 7;
const REACH_AFTER = 3;
/** "Eleven hours since I last had a wee": with its unit said, a number's measure may follow later. */
const REACH_AFTER_UNIT = 9;
const FAHRENHEIT: ReadonlySet<string> = new Set(['f', 'fahrenheit', 'farenheit']);
const CELSIUS: ReadonlySet<string> = new Set(['c', 'celsius', 'centigrade']);

interface Reading {
  readonly lexicon: Lexicon;
  readonly vocabulary: Vocabulary;
  readonly words: readonly Word[];
  readonly asked: readonly string[];
}

/** Each number belongs to one measure at most: the asked one if its unit fits, else the one whose words stand nearest. */
export function measureNumbers(reading: Reading, numbers: readonly SaidNumber[]): readonly Measured[] {
  const measured = numbers.flatMap((number) => measureOne(reading, number) ?? []);
  // "It was nine, it's four now": of a pain what holds now replaces what held before; a fever that was counts.
  const isNow = ({ end }: Span): boolean =>
    reading.words.slice(end, end + 2).some(({ text }) => text === 'now');
  return measured.filter(
    (one) =>
      one.finding !== 'pain-score' ||
      isNow(one) ||
      !measured.some((other) => other.finding === one.finding && isNow(other)),
  );
}

function measureOne(reading: Reading, number: SaidNumber): Measured | null {
  const { lexicon, vocabulary, asked } = reading;
  const asOne = (measure: Measure): Measured | null => {
    const spec = vocabulary.findings[measure.finding];
    const value = spec === undefined ? null : valueOf({ reading, measure, spec }, number);
    return value === null ? null : { finding: measure.finding, value, start: number.start, end: number.end };
  };
  if (number.outOfTen) return asOnly(lexicon, 'pain-score', asOne);
  const nearest = lexicon.measures
    .map((measure) => ({ measure, distance: distanceTo(reading, measure, number) }))
    .filter(({ distance }) => distance < Infinity)
    .sort((one, other) => one.distance - other.distance);
  for (const { measure } of nearest) {
    const measured = asOne(measure);
    if (measured !== null) return measured;
  }
  if (nearest.length > 0) return null;
  if (isBareTemperature(number)) return asOnly(lexicon, 'temperature', asOne);
  const wanted = lexicon.measures.find(({ finding }) => asked.includes(finding));
  return wanted === undefined ? null : asOne(wanted);
}

/** 38.7 said by itself is a temperature: nothing else that callers measure falls there with a tenth. */
function isBareTemperature({ values }: SaidNumber): boolean {
  return values.every((value) => value >= 35 && value <= 42 && !Number.isInteger(value));
}

function asOnly(
  { measures }: Lexicon,
  finding: string,
  asOne: (measure: Measure) => Measured | null,
): Measured | null {
  const measure = measures.find((one) => one.finding === finding);
  return measure === undefined ? null : asOne(measure);
}

/** How many words lie between the number and a word of the measure in the same clause; 0 where its own unit follows. */
function distanceTo({ words, asked }: Reading, measure: Measure, number: SaidNumber): number {
  const hasUnit = unitOf(words, measure, number) !== null;
  const isAsked = asked.includes(measure.finding);
  if (hasUnit && (isAsked || measure.near.length === 0)) return 0;
  if (measure.needsUnit && !hasUnit && !isAsked) return Infinity;
  const near = new Set(measure.near);
  const clause = words[number.start]?.clause ?? 0;
  const reachAfter = measure.needsUnit && hasUnit ? REACH_AFTER_UNIT : REACH_AFTER;
  for (let step = 1; step <= Math.max(REACH_BEFORE, reachAfter); step += 1) {
    const before = step <= REACH_BEFORE ? words[number.start - step] : undefined;
    if (before !== undefined && clause - before.clause <= 1 && near.has(before.text)) return step;
    const after = step <= reachAfter ? words[number.end + step - 1] : undefined;
    if (after !== undefined && after.clause === clause && near.has(after.text)) return step;
  }
  return Infinity;
}

/** The unit that follows the number, within one word ("half an hour"). */
function unitOf(words: readonly Word[], { units }: Measure, { end }: SaidNumber): string | null {
  for (const at of [end, end + 1]) {
    const word = words[at]?.text ?? '';
    if (Object.hasOwn(units, word)) return word;
  }
  return null;
}

interface Valuing {
  readonly reading: Reading;
  readonly measure: Measure;
  readonly spec: FindingSpec;
}

function valueOf({ reading, measure, spec }: Valuing, number: SaidNumber): number | null {
  const values = number.values.flatMap((said) => {
    const value =
      spec.unit === 'degC'
        ? degrees(reading.words, number, said)
        : scaled(reading, measure, { number, said, step: spec.step });
    return value !== null && isValueOf(spec, value) ? [value] : [];
  });
  // Of a blood pressure the first figure is the upper one.
  if (spec.id === 'systolic-pressure') return values[0] ?? null;
  return values.length === 0 ? null : values.reduce((one, other) => worse(spec, one, other));
}

interface Scaling {
  readonly number: SaidNumber;
  readonly said: number;
  readonly step: number;
}

function scaled({ words }: Reading, measure: Measure, { number, said, step }: Scaling): number | null {
  const unit = unitOf(words, measure, number);
  const factor = unit === null ? 1 : (measure.units[unit] ?? 1);
  const after = words[number.end]?.text;
  // A number of another kind: "two tablets" is no score, "an hour ago" no measure.
  if (unit === null && after !== undefined && OTHER_UNITS.has(after)) return null;
  const value = said * factor * (DOSES.has(measure.finding) ? timesOf(words, number.end) : 1);
  return Math.round(Math.round((value / step) * 10) / 10) * step;
}

/** What is counted over a day may be said dose by dose. */
const DOSES: ReadonlySet<string> = new Set(['paracetamol-g-24h', 'ibuprofen-mg-24h']);
const TIMES: ReadonlyMap<string, number> = new Map(
  Object.entries({
    once: 1,
    twice: 2,
    two: 2,
    three: 3,
    thrice: 3,
    four: 4,
    five: 5,
    six: 6,
    '2': 2,
    '3': 3,
    '4': 4,
    '5': 5,
    '6': 6,
  }),
);
const HOURS_OF_A_DAY = 24;

/** "400 mg three times", "two tablets every six hours": how often within a day; once where nothing was said. */
function timesOf(words: readonly Word[], from: number): number {
  for (let at = from; at < from + 6; at += 1) {
    const word = words[at]?.text ?? '';
    const next = words[at + 1]?.text ?? '';
    if (word === 'twice' || word === 'thrice') return TIMES.get(word) ?? 1;
    if (next === 'times' || next === 'x') return TIMES.get(word) ?? 1;
    const hours = TIMES.get(next);
    if (word === 'every' && hours !== undefined && words[at + 2]?.text.startsWith('hour') === true) {
      return HOURS_OF_A_DAY / hours;
    }
  }
  return 1;
}

const OTHER_UNITS: ReadonlySet<string> = new Set(
  'degrees mils ml millilitres tablets pills stitches times oclock percent cm mm inches pads weeks week hour hours minutes minute mins hrs day days side sides leg eye of more thing nipple breast boob cheek hand finger lid calf end stitch towels centimetres centimetre point paracetamol months years year old'.split(
    ' ',
  ),
);

function degrees(words: readonly Word[], number: SaidNumber, said: number): number | null {
  let unit: TemperatureUnit | null = null;
  for (const at of [number.end, number.end + 1]) {
    const word = words[at]?.text ?? '';
    if (FAHRENHEIT.has(word)) unit = 'F';
    else if (unit === null && CELSIUS.has(word)) unit = 'C';
  }
  const read = readTemperature(said, unit);
  if (!read.ok) return null;
  // Counted to the tenth: the nearest tenth lies on the same side of every threshold as what was said.
  return Math.round((read.value.given === 'F' ? celsius(said) : said) * 10) / 10;
}

function worse({ worse: way, normal }: FindingSpec, one: number, other: number): number {
  if (way === 'down') return Math.min(one, other);
  if (way !== 'away' || typeof normal !== 'number') return Math.max(one, other);
  return Math.abs(one - normal) > Math.abs(other - normal) ? one : other;
}
