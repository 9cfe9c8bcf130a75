/** What a caller's words establish: findings with values, whether there is danger, and what must be read back first. */
import {
  UNSURE,
  type FindingId,
  type FindingSpec,
  type FindingValue,
  type Vocabulary,
} from '../clinical/finding.ts';
import { answersOf, type Asking } from './answer.ts';
import { foldWords, type Word } from './fold-words.ts';
import { candidateOf, type Candidate } from './gather.ts';
import type { Lexicon } from './lexicon.ts';
import { matchPhrases } from './match-phrases.ts';
import { daysSince, hoursSince, type Moment } from './clock-times.ts';
import { measureNumbers, type Measured } from './measures.ts';
import { findNumbers, type SaidNumber } from './numbers.ts';
import { preferSpecific } from './prefer-specific.ts';
import { prepare, type Prepared } from './prepare.ts';
import { isDanger, isReassuring, needsReadBack } from './read-aloud-policy.ts';
import { isEcho, placeReplies, positionsOf, readReply } from './reply.ts';
import { placeTriggers } from './scope.ts';
import { respell } from './spelling.ts';
import { spokenScope } from './spoken-scope.ts';

export interface Utterance {
  readonly text: string;
  /** The finding or the group of findings that was asked; null for words that nobody asked for. */
  readonly asked: FindingId | readonly FindingId[] | null;
  readonly procedure: string | null;
  /** Whole days since surgery; null when not known. */
  readonly day: number | null;
  /** The hour on the caller's clock; null when not known: then what is said by the clock says nothing. */
  readonly hour: number | null;
  /** 0 to 1, as the recogniser gives it; 1 for what was typed or keyed. */
  readonly confidence: number;
}

export interface Because {
  readonly finding: FindingId;
  readonly value: FindingValue;
  /** The caller's own words. */
  readonly words: string;
  /** What decided that they count as they do; empty when nothing turned them. */
  readonly scope: readonly string[];
}

export interface Understood {
  readonly findings: Readonly<Record<FindingId, FindingValue>>;
  readonly danger: boolean;
  /** Findings whose answer must be read back before it counts, and dangers said to have passed without a time. */
  readonly confirm: readonly FindingId[];
  /** False: nothing in it was understood, and the question is put again. */
  readonly understood: boolean;
  readonly because: readonly Because[];
}

/** Longer words are read at both ends: what opens a statement and what it came to. */
const MOST = 4000;
const EACH_END = 2000;

export function understand(lexicon: Lexicon, vocabulary: Vocabulary, utterance: Utterance): Understood {
  const text = cut(utterance.text);
  const prepared = prepare(lexicon);
  const words = respell(prepared.spelling, foldWords(text));
  const asked = askedOf(utterance, vocabulary);
  const replies = placeReplies(prepared.replies, words);
  const reply = readReply(replies, words);
  const all = candidates({
    prepared,
    vocabulary,
    words,
    text,
    asked: asked.map(({ id }) => id),
    moment: utterance,
  });
  const heard = isEcho(words, reply)
    ? all.filter(({ finding }) => !asked.some(({ id }) => id === finding))
    : all;
  const asking: Asking = { asked, isGroup: Array.isArray(utterance.asked), heard, day: utterance.day, words };
  const answered = answersOf(asking, reply);
  const settled = settleAll(
    vocabulary,
    [...heard, ...answered.candidates],
    positionsOf(replies, 'correction'),
  );
  const confirm = confirmed(settled, utterance.confidence);
  const findings = Object.fromEntries(
    settled.flatMap(({ id, value }) => (value === null ? [] : [[id, value]])),
  );
  return {
    findings,
    danger: settled.some(
      ({ spec, value }) => isDanger(spec) && value === 'yes' && !isOnlyABlur(spec, findings),
    ),
    confirm: [...new Set([...confirm, ...answered.confirm])],
    understood: answered.understood || Object.keys(findings).length > 0 || confirm.length > 0,
    because: settled.flatMap(({ id, value, behind }) =>
      behind.map((one) => ({
        finding: id,
        value: value ?? UNSURE,
        words: text.slice(words[one.start]?.from ?? 0, words[one.end - 1]?.to ?? 0),
        scope: one.because,
      })),
    ),
  };
}

/** A blur that goes on blinking is no loss of sight. */
function isOnlyABlur({ id }: FindingSpec, findings: Readonly<Record<FindingId, FindingValue>>): boolean {
  return id === 'vision-change' && findings['blur-clears-on-blinking'] === 'yes';
}

function cut(text: string): string {
  return text.length <= MOST ? text : `${text.slice(0, EACH_END)} . ${text.slice(-EACH_END)}`;
}

function askedOf({ asked }: Utterance, vocabulary: Vocabulary): readonly FindingSpec[] {
  const ids = asked === null ? [] : typeof asked === 'string' ? [asked] : asked;
  return ids.flatMap((id) => vocabulary.findings[id] ?? []);
}

interface Timed {
  readonly words: readonly Word[];
  readonly numbers: readonly SaidNumber[];
}

interface Reading {
  readonly prepared: Prepared;
  readonly vocabulary: Vocabulary;
  readonly words: readonly Word[];
  readonly text: string;
  readonly asked: readonly FindingId[];
  readonly moment: Moment;
}

function candidates({ prepared, vocabulary, words, text, asked, moment }: Reading): readonly Candidate[] {
  const matched = matchPhrases(prepared.phrases, words).filter(
    ({ phrase }) => !phrase.onlyAsked || asked.includes(phrase.finding),
  );
  const hits = preferSpecific(matched, words, asked);
  const context = { words, hits, placed: placeTriggers(prepared.triggers, words), joins: prepared.joins };
  const said = hits.flatMap(
    (hit) => candidateOf(vocabulary, { hit, scope: spokenScope(context, hit) }) ?? [],
  );
  const numbers = findNumbers(text, words);
  const timed = timesOf({ words, numbers }, asked, moment);
  const counted = measureNumbers({ lexicon: prepared.lexicon, vocabulary, words, asked }, numbers).filter(
    ({ finding }) => !timed.some((one) => one.finding === finding),
  );
  const measured = [...counted, ...timed].map((one): Candidate => {
    return { ...one, sort: 'stated', rank: 0, hedged: false, because: ['number'] };
  });
  return [...said, ...measured];
}

const PASSING: ReadonlySet<string> = new Set('wee weed pee peed urine urinated water'.split(' '));

/** What is said by the clock or the day, where it was asked or passing water is spoken of. */
function timesOf(said: Timed, asked: readonly FindingId[], moment: Moment): readonly Measured[] {
  const isAboutWater =
    asked.includes('hours-since-urine') || said.words.some(({ text }) => PASSING.has(text));
  const hours = isAboutWater ? hoursSince(said, moment) : null;
  const days =
    asked.includes('days-since-bowels') && said.numbers.length === 0 ? daysSince(said, moment) : null;
  return [hours, days].flatMap((one) => one ?? []);
}

interface Settled {
  readonly id: FindingId;
  readonly spec: FindingSpec;
  /** Null: it was said to have passed, and has to be asked. */
  readonly value: FindingValue | null;
  readonly hedged: boolean;
  readonly contradicted: boolean;
  readonly behind: readonly Candidate[];
}

function settleAll(
  vocabulary: Vocabulary,
  all: readonly Candidate[],
  corrections: readonly number[],
): readonly Settled[] {
  return [...new Set(all.map(({ finding }) => finding))].flatMap((id) => {
    const spec = vocabulary.findings[id];
    return spec === undefined
      ? []
      : [
          settleOne(
            spec,
            all.filter(({ finding }) => finding === id),
            corrections,
          ),
        ];
  });
}

/** The worst that was stated; else what was left open, else what has passed, else what was denied. */
function settleOne(spec: FindingSpec, of: readonly Candidate[], corrections: readonly number[]): Settled {
  const kept = isDanger(spec) ? of : lastSaid(of, corrections);
  const stated = kept.filter(({ sort }) => sort === 'stated');
  const worst = stated.reduce<Candidate | null>(
    (one, next) => (one === null || isWorse(spec, next, one) ? next : one),
    null,
  );
  const of_ = (sort: Candidate['sort']): readonly Candidate[] => kept.filter((one) => one.sort === sort);
  const base = { id: spec.id, spec };
  const denied = of_('denied');
  if (worst !== null) {
    const behind = stated.filter(({ value }) => value === worst.value);
    const taken = denied.some(
      ({ start }) => start > worst.start && corrections.some((at) => at > worst.start && at <= start),
    );
    const contradicted = isDanger(spec) && taken;
    return { ...base, value: worst.value, hedged: worst.hedged, contradicted, behind };
  }
  if (of_('unsure').length > 0) {
    return { ...base, value: UNSURE, hedged: false, contradicted: false, behind: of_('unsure') };
  }
  if (of_('passed').length > 0) {
    return { ...base, value: UNSURE, hedged: false, contradicted: true, behind: of_('passed') };
  }
  const value = denied[0]?.value ?? UNSURE;
  return { ...base, value, hedged: denied.some(({ hedged }) => hedged), contradicted: false, behind: denied };
}

/** What was said after "no, wait" replaces what was said before it, of the same finding. */
function lastSaid(of: readonly Candidate[], corrections: readonly number[]): readonly Candidate[] {
  const last = corrections.at(-1);
  if (last === undefined) return of;
  const after = of.filter(({ start }) => start > last);
  return after.length > 0 ? after : of;
}

function isWorse(spec: FindingSpec, one: Candidate, than: Candidate): boolean {
  if (typeof one.value === 'number' && typeof than.value === 'number' && typeof spec.normal === 'number') {
    if (spec.worse === 'down') return one.value < than.value;
    if (spec.worse === 'away') return Math.abs(one.value - spec.normal) > Math.abs(than.value - spec.normal);
    return one.value > than.value;
  }
  if (one.value === UNSURE) return isReassuring(spec, than.value);
  if (than.value === UNSURE) return !isReassuring(spec, one.value);
  return one.rank > than.rank;
}

function confirmed(settled: readonly Settled[], confidence: number): readonly FindingId[] {
  return settled.flatMap(({ id, spec, value, hedged, contradicted }) => {
    if (value === null) return [id];
    return needsReadBack(spec, { value, hedged, contradicted }, confidence) ? [id] : [];
  });
}
