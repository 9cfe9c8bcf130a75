/** Everything that the words say by themselves, whatever was asked: complaints with their scope, and numbers. */
import type { FindingId, FindingSpec, Vocabulary } from '../clinical/finding.ts';
import { daysSince, hoursSince, type Moment } from './clock-times.ts';
import { longNosebleed } from './echoes.ts';
import type { Word } from './fold-words.ts';
import { CALLER_GROUPS, candidateOf, type Candidate } from './gather.ts';
import { matchPhrases, type Hit } from './match-phrases.ts';
import { measureNumbers, type Measured } from './measures.ts';
import { findNumbers, type SaidNumber } from './numbers.ts';
import type { Span } from './patterns.ts';
import { preferSpecific } from './prefer-specific.ts';
import type { Prepared } from './prepare.ts';
import { isDanger } from './read-aloud-policy.ts';
import type { Placed } from './reply.ts';
import { placeTriggers, type Scope } from './scope.ts';
import { spokenScope } from './spoken-scope.ts';
import { isForRelative, placeRelatives } from './subject.ts';

interface Timed {
  readonly words: readonly Word[];
  readonly numbers: readonly SaidNumber[];
}

export interface Reading {
  readonly prepared: Prepared;
  readonly vocabulary: Vocabulary;
  readonly words: readonly Word[];
  readonly text: string;
  readonly asked: readonly FindingId[];
  readonly procedure: string | null;
  readonly moment: Moment;
  /** Where bare answers stand: "ring if it hurts, well it does". */
  readonly replies: readonly Placed[];
}

export function readWords(reading: Reading): readonly Candidate[] {
  const { prepared, vocabulary, words, text, asked, moment } = reading;
  const askedPart = asked.flatMap((id) => prepared.lexicon.about[id] ?? [])[0] ?? null;
  const matched = matchPhrases(prepared, words, { part: askedPart, findings: asked });
  const belonging = matched.flatMap((hit) => ofProcedure(reading, hit) ?? []);
  const hits = preferSpecific(belonging, words, asked);
  const relatives = placeRelatives(prepared.relatives, words);
  const ofHealth = hits.filter(({ phrase }) => !isOfCaller(vocabulary, phrase.finding));
  const wishes = hits.filter(({ phrase }) => phrase.deniedBy === 'nothing');
  const isRinging = hits.some(({ phrase }) => phrase.finding === 'caller-is' && phrase.value !== 'patient');
  const isForOther = isRinging || isForRelative(relatives, { words, hits: ofHealth, wishes });
  const context = {
    words,
    hits,
    placed: placeTriggers(prepared.triggers, words),
    joins: prepared.joins,
    isForOther,
  };
  const said = hits.flatMap(
    (hit) =>
      candidateOf(vocabulary, { hit, scope: answeredScope(reading, hit, spokenScope(context, hit)) }) ?? [],
  );
  const [relative] = relatives;
  if (isForOther && !isRinging && relative !== undefined && said.some(({ sort }) => sort === 'stated')) {
    said.push(relativeRings(relative));
  }
  const numbers = findNumbers(text, words);
  const timed = timesOf({ words, numbers }, asked, moment);
  const counted = measureNumbers({ lexicon: prepared.lexicon, vocabulary, words, asked }, numbers).filter(
    ({ finding }) => !timed.some((one) => one.finding === finding),
  );
  const measured = [...counted, ...timed].map((one): Candidate => {
    return { ...one, sort: 'stated', rank: 0, hedged: false, because: ['number'], says: 'number' };
  });
  const bleed = asked.includes('nose-bleed-minutes') ? null : longNosebleed(vocabulary, measured, words);
  return [...said, ...measured, ...(bleed === null ? [] : [bleed])];
}

/** A face that will not move is of its own only after a face-lift; elsewhere it is a sign of a stroke. */
const ELSEWHERE: ReadonlyMap<FindingId, FindingId> = new Map([['face-weakness', 'stroke-signs']]);

/** Null: a finding of other procedures. A danger belongs to every procedure, and what is asked to this one. */
function ofProcedure({ vocabulary, procedure, asked }: Reading, hit: Hit): Hit | null {
  const spec = vocabulary.findings[hit.phrase.finding];
  if (spec === undefined || isFitting(spec, procedure) || asked.includes(spec.id)) return hit;
  const meant = ELSEWHERE.get(spec.id);
  if (meant === undefined) return null;
  return { ...hit, phrase: { ...hit.phrase, finding: meant, deniedBy: 'adjacent' } };
}

function isFitting(spec: FindingSpec, procedure: string | null): boolean {
  if (procedure === null || spec.only === null || isDanger(spec)) return true;
  return spec.only.some((one) => one === procedure);
}

const ANSWERS_WITHIN = 6;

/** "Ring if my calf hurts, well it does": the answer after what was only supposed decides it. */
function answeredScope({ replies }: Reading, hit: Hit, scope: Scope): Scope {
  if (!scope.hypothetical || scope.other) return scope;
  const next = replies.find(({ start }) => start >= hit.end && start - hit.end <= ANSWERS_WITHIN);
  if (next?.sense === 'yes')
    return { ...scope, hypothetical: false, because: [...scope.because, 'answered yes'] };
  if (next?.sense !== 'no') return scope;
  return { ...scope, hypothetical: false, negated: true, because: [...scope.because, 'answered no'] };
}

function isOfCaller(vocabulary: Vocabulary, id: FindingId): boolean {
  const group = vocabulary.findings[id]?.group ?? '';
  return CALLER_GROUPS.has(group);
}

function relativeRings({ start, end }: Span): Candidate {
  const at = { start, end, rank: 0, hedged: false, because: ['speaks of somebody else'], says: 'relative' };
  return { finding: 'caller-is', value: 'relative-or-friend', sort: 'stated', ...at };
}

const PASSING: ReadonlySet<string> = new Set('wee weed pee peed urine urinated water'.split(' '));

const BOWELS: ReadonlySet<string> = new Set('bowels bowel poo pooed poop pooped motion stool'.split(' '));

/** "Bowels went yesterday, pain's a two": the day that stands in the clause of the bowels, where no number does. */
function bowelsOf({ words, numbers }: Timed, moment: Moment): Measured | null {
  const clause = words.find(({ text }) => BOWELS.has(text))?.clause;
  if (clause === undefined || numbers.some(({ start }) => words[start]?.clause === clause)) return null;
  return daysSince({ words: words.filter((word) => word.clause === clause), numbers: [] }, moment);
}

/** What is said by the clock or the day, where it was asked or passing water is spoken of. */
function timesOf(said: Timed, asked: readonly FindingId[], moment: Moment): readonly Measured[] {
  const isAboutWater =
    asked.includes('hours-since-urine') || said.words.some(({ text }) => PASSING.has(text));
  const hours = isAboutWater ? hoursSince(said, moment) : null;
  const isAsked = asked.includes('days-since-bowels') && said.numbers.length === 0;
  const days = isAsked ? daysSince(said, moment) : bowelsOf(said, moment);
  return [hours, days].flatMap((one) => one ?? []);
}
