/** Turns one written question, rule, threshold or word list into its compiled form. */
import { UNSURE, type Condition, type FindingId, type FindingSpec } from '../clinical/finding.ts';
import { EMERGENCY, LADDER, WITHIN_THE_HOUR, type Outcome, type Within } from '../clinical/outcome.ts';
import { LAST_DAY, type Window } from '../clinical/window.ts';
import type { AnswerOption, CommonWords, Effect, Question, Rule, Threshold } from './compiled.ts';
import type { ConcernsFile, QuestionFile, RuleFile, WordsFile } from './schema.ts';

type Days = readonly [number, number];

interface QuestionPlace {
  readonly topic: string;
  /** The days on which the procedure uses the topic; null for a procedure's own. */
  readonly days: Days | null;
  readonly specs: Readonly<Record<FindingId, FindingSpec>>;
  readonly words: WordsFile;
}

export function toQuestion(file: QuestionFile, place: QuestionPlace): Question {
  const findings = file.findings ?? (file.finding === undefined ? [] : [file.finding]);
  const spec = file.finding === undefined ? undefined : place.specs[file.finding];
  return {
    id: file.id,
    topic: place.topic,
    tier: file.ask,
    kind: file.fact === undefined ? (file.findings === undefined ? 'finding' : 'group') : 'fact',
    findings,
    fact: file.fact ?? null,
    words: file.words,
    spoken: file.spoken,
    why: file.why,
    unsureMeans: file.unsure,
    answers: spec === undefined ? groupAnswers(file, place.words) : answersOf(file, spec, place.words),
    window: cut(toWindow(file), place.days),
    when: both(file.when ?? null, spec?.when ?? null),
    skipIf: file['skip-if'] ?? null,
  };
}

function groupAnswers(file: QuestionFile, words: WordsFile): readonly AnswerOption[] {
  if (file.findings === undefined) return [];
  return [
    { value: 'no', label: file.answers?.['no'] ?? words.answers.no },
    { value: 'yes', label: file.answers?.['yes'] ?? words.answers.yes },
    { value: UNSURE, label: file.answers?.[UNSURE] ?? words.answers.unsure },
  ];
}

function answersOf(file: QuestionFile, spec: FindingSpec, words: WordsFile): readonly AnswerOption[] {
  const common: Readonly<Record<string, string>> = words.answers;
  const values = spec.kind === 'yes-no' ? ['yes', 'no'] : spec.values;
  return [...values, UNSURE].map((value) => ({
    value,
    label: file.answers?.[value] ?? common[value] ?? value.replaceAll('-', ' '),
  }));
}

/** Both conditions; the rows of one with the rows of the other. */
function both(a: Condition | null, b: Condition | null): Condition | null {
  if (a === null || b === null) return a ?? b;
  return a.flatMap((left) => b.map((right) => [...left, ...right]));
}

interface Dated {
  readonly days?: Days;
  readonly hours?: Days;
}

function toWindow(dated: Dated): Window {
  return { days: dated.days ?? [0, LAST_DAY], hours: dated.hours ?? null };
}

/** A question is asked only on the days that the procedure uses its topic; a rule counts whenever it is known. */
function cut(window: Window, days: Days | null): Window {
  if (days === null) return window;
  return { ...window, days: [Math.max(window.days[0], days[0]), Math.min(window.days[1], days[1])] };
}

export function toRule(file: RuleFile, topic: string): Rule {
  return {
    id: file.id,
    topic,
    if: file.if,
    window: toWindow(file),
    effect: toEffect(file),
    because: file.because,
    source: file.source,
  };
}

/** Exactly one of the three is written; the checks refuse anything else before this runs. */
function toEffect(file: RuleFile): Effect {
  const flag = file['red-flag'];
  if (flag !== undefined) {
    return {
      kind: 'red-flag',
      concern: flag.concern,
      to: urgentOutcome(flag.within),
      seenAt: flag['seen-at'] ?? null,
      untilSeen: flag['until-seen'],
      harmlessOutside: flag['harmless-outside'] ?? null,
    };
  }
  const least = file['at-least'];
  if (least !== undefined) {
    return { kind: 'at-least', concern: least.concern ?? null, to: reviewOutcome(least.within) };
  }
  const [concern = '', points = 0] = Object.entries(file.points ?? {})[0] ?? [];
  return { kind: 'points', concern, points };
}

function urgentOutcome(within: 'emergency' | 'now' | '1-hour'): Outcome {
  switch (within) {
    case 'emergency':
      return EMERGENCY;
    case 'now':
      return LADDER[6];
    case '1-hour':
      return WITHIN_THE_HOUR;
  }
}

function reviewOutcome(within: Within): Outcome {
  const rung = LADDER.find((one) => one.outcome === 'arrange-review' && one.within === within);
  if (rung === undefined) throw new Error(`No review within ${within}`);
  return rung;
}

type ThresholdFile = ConcernsFile['concerns'][string]['thresholds'][number];

export function toThreshold(file: ThresholdFile): Threshold {
  const to = file.urgent === undefined ? reviewOutcome(file.review ?? 'none') : urgentOutcome(file.urgent);
  return { points: file.points, to, when: file.when ?? null };
}

export function toWords(file: WordsFile): CommonWords {
  const { outcome } = file;
  return {
    greeting: file.greeting,
    emergency: file.emergency,
    caution: file.caution,
    reachClinician: file['reach-clinician'],
    untilSeen: file.law['until-seen'],
    safetyNetStart: file['safety-net'].start,
    safetyNetEnd: file['safety-net'].end,
    outcome: {
      advise: outcome.advise,
      review: {
        'same-day': outcome['same-day'],
        'next-day': outcome['next-day'],
        'next-working-day': outcome['next-working-day'],
        'planned-visit': outcome['planned-visit'],
      },
      urgent: outcome.urgent,
      emergency: outcome.emergency,
      cutOff: outcome['cut-off'],
    },
    reasons: file.reasons,
    handover: file.handover,
  };
}
