/**
 * The one function that decides: circumstances and final findings in, outcome and reasons out.
 * It never looks at the order in which things were said, and never at the clock.
 */
import { UNSURE, type Findings } from '../clinical/finding.ts';
import {
  ADVISE,
  PLANNED_VISIT,
  SAME_DAY,
  WITHIN_THE_HOUR,
  isUrgent,
  rank,
  stepSooner,
  worse,
  type Outcome,
} from '../clinical/outcome.ts';
import { LAST_CLOT_DAY } from '../clinical/window.ts';
import type { Flow, ReasonId, Rule } from '../flow/compiled.ts';
import { CONTACT_WINDOW_HOURS, type Circumstances, type RaisedBy } from './circumstances.ts';
import { redFlagName, score, type Scored } from './score.ts';

export type Act = 'ring-emergency' | 'emergency-department' | 'on-call-now' | 'review' | 'advice';

export interface Reason {
  readonly text: string;
  readonly source: string;
  /** The rule, concern or circumstance that gave it. */
  readonly from: string;
  readonly to: Outcome;
  readonly points: number;
}

export interface Assessment {
  readonly outcome: Outcome;
  readonly act: Act;
  /** Points by concern, of the time that counted worst. */
  readonly concerns: Readonly<Record<string, number>>;
  readonly redFlags: readonly string[];
  /** Worst first. */
  readonly reasons: readonly Reason[];
  /** The concern that led, or null when nothing counted. */
  readonly about: string | null;
  readonly untilSeen: readonly string[];
  readonly seenAt: string | null;
  /** Minutes within which the patient is to be rung back, or null. */
  readonly ringBackWithin: 5 | 20 | null;
}

export function assess(flow: Flow, circumstances: Circumstances, findings: Findings): Assessment {
  const scored = worstTime(flow, circumstances, findings);
  const { about, flag, redFlags, reasons } = told(scored);
  const adjusted = adjust(flow, circumstances, { scored, findings });
  const outcome = adjusted.outcome;
  return {
    outcome,
    act: actFor(outcome, flag?.seenAt ?? null),
    concerns: scored.points,
    redFlags,
    reasons: [...reasons, ...adjusted.reasons].sort((a, b) => rank(b.to) - rank(a.to)),
    about,
    untilSeen: flag?.untilSeen ?? (isUrgent(outcome) ? flow.words.untilSeen : []),
    seenAt: flag?.seenAt ?? null,
    ringBackWithin: adjusted.ringBackWithin,
  };
}

/** What a score has to say for itself, whatever the circumstances add. */
interface Told {
  readonly about: string | null;
  /** The worst of the red flags. */
  readonly flag: Extract<Rule['effect'], { kind: 'red-flag' }> | null;
  readonly redFlags: readonly string[];
  readonly reasons: readonly Reason[];
}

const toldOf = new WeakMap<Scored, Told>();

function told(scored: Scored): Told {
  const known = toldOf.get(scored);
  if (known !== undefined) return known;
  const redFlags = scored.fired.filter(({ rule }) => rule.effect.kind === 'red-flag');
  const leading = redFlags.toSorted((a, b) => rank(b.to) - rank(a.to))[0]?.rule.effect;
  const now: Told = {
    about: leadingConcern(scored),
    flag: leading?.kind === 'red-flag' ? leading : null,
    redFlags: [...new Set(redFlags.map(({ rule }) => redFlagName(rule)))],
    reasons: ruleReasons(scored),
  };
  toldOf.set(scored, now);
  return now;
}

function worstTime(flow: Flow, circumstances: Circumstances, findings: Findings): Scored {
  const [only, second] = circumstances.times;
  if (only !== undefined && second === undefined) return score(flow, only, findings);
  const all = circumstances.times.map((time) => score(flow, time, findings));
  const worst = all.toSorted((a, b) => rank(b.outcome) - rank(a.outcome))[0];
  return worst ?? score(flow, { day: null, hours: null }, findings);
}

function leadingConcern(scored: Scored): string | null {
  const rules = scored.fired.map(({ rule, to, points }) => ({ about: rule.effect.concern, to, points }));
  const concerns = scored.crossed.map(({ concern, to, points }) => ({ about: concern.id, to, points }));
  const named = [...concerns, ...rules].filter(({ about }) => about !== null);
  return named.sort((a, b) => rank(b.to) - rank(a.to) || b.points - a.points)[0]?.about ?? null;
}

function ruleReasons(scored: Scored): readonly Reason[] {
  const crossed = new Map(scored.crossed.map(({ concern, to }) => [concern.id, to]));
  const rules = scored.fired.map(({ rule, to, points }) => ({
    text: rule.because,
    source: rule.source,
    from: rule.id,
    to: rule.effect.kind === 'points' ? (crossed.get(rule.effect.concern) ?? ADVISE) : to,
    points,
  }));
  const concerns = scored.crossed.map(({ concern, to, points }) => ({
    text: concern.because,
    source: concern.source,
    from: concern.id,
    to,
    points,
  }));
  return [...rules, ...concerns];
}

interface Adjusted {
  readonly outcome: Outcome;
  readonly reasons: readonly Reason[];
  readonly ringBackWithin: 5 | 20 | null;
}

interface Scoring {
  readonly scored: Scored;
  readonly findings: Findings;
}

/** What circumstances add. Every step but the clinician's own lowering can only raise. */
function adjust(flow: Flow, circumstances: Circumstances, scoring: Scoring): Adjusted {
  const reasons: Reason[] = [];
  let outcome = scoring.scored.outcome;
  const raise = (reason: ReasonId, to: Outcome): void => {
    if (rank(to) <= rank(outcome)) return;
    outcome = to;
    reasons.push({ text: flow.words.reasons[reason], source: SOURCE, from: reason, to, points: 0 });
  };
  const note = (reason: ReasonId): void => {
    reasons.push({ text: flow.words.reasons[reason], source: SOURCE, from: reason, to: outcome, points: 0 });
  };

  if (flow.floor !== null) note('general-flow');
  if (circumstances.takenBack.length > 0) note('taken-back');
  repeatContacts(circumstances, scoring, raise);
  const ringBackWithin = cutOff(circumstances, scoring, raise);
  if (circumstances.limitReached) raise('too-much-unknown', SAME_DAY);
  if (circumstances.raised !== null) raise(RAISED[circumstances.raisedBy], circumstances.raised);
  const isOpen = circumstances.clinic === 'open' || isFloorOfUnfinished(flow, circumstances, scoring.scored);
  if (outcome.within === 'same-day' && !isOpen) {
    raise('clinic-closed', WITHIN_THE_HOUR);
  }
  if (circumstances.told !== null) raise('told-already', circumstances.told);
  const lowered = circumstances.lowered;
  if (lowered !== null && mayLowerFrom(outcome, circumstances) && rank(lowered.to) < rank(outcome)) {
    outcome = lowered.to;
    note('clinician-lowered');
  }
  return { outcome, reasons, ringBackWithin };
}

/**
 * The short script never ends in advice, but what it ends in is not known while its questions go on: a call that nobody
 * has identified yet is not urgent at night for that alone.
 */
function isFloorOfUnfinished(flow: Flow, { ending, raised }: Circumstances, scored: Scored): boolean {
  if (ending !== 'asking' || flow.floor === null) return false;
  const said = [...scored.fired, ...scored.crossed].map(({ to }) => rank(to));
  return Math.max(0, ...said, raised === null ? 0 : rank(raised)) < rank(SAME_DAY);
}

const RAISED = {
  nurse: 'nurse-raised',
  line: 'line-raised',
  program: 'script-gone',
} as const satisfies Record<RaisedBy, ReasonId>;

const SOURCE = 'practice rule for every call';

/** An emergency or a danger taken back is lowered only by a clinician who has spoken to the patient. */
export function mayLowerFrom(outcome: Outcome, circumstances: Circumstances): boolean {
  const lowered = circumstances.lowered;
  if (lowered === null || lowered.clinician.trim() === '') return false;
  const needsVoice = outcome.emergency || circumstances.takenBack.length > 0;
  return !needsVoice || lowered.spokeToPatient;
}

type Raise = (reason: ReasonId, to: Outcome) => void;

/**
 * Second and third contact within 72 hours. The problem an earlier call was about is the same when anything counts
 * towards it now; what is unknown is taken as the same. Its own outcome moves one step sooner, never another's.
 */
function repeatContacts(circumstances: Circumstances, scoring: Scoring, raise: Raise): void {
  const { scored } = scoring;
  if (circumstances.earlierCalls.length === 0) return;
  const counted = circumstances.earlierCalls.filter(
    (call) => call.kind === 'worried' && call.hoursAgo <= CONTACT_WINDOW_HOURS,
  );
  if (counted.length === 0 || isEverydayOnly(scored, scoring.findings)) return;
  const alone = outcomeByConcern(scored);
  const same = counted.flatMap((call) => {
    const to = call.about === null ? scored.outcome : alone.get(call.about);
    return to === undefined ? [] : [{ about: call.about, to }];
  });
  for (const { to } of same) raise('second-contact-same-problem', stepSooner(to, 1));
  const times = new Map<string | null, number>();
  for (const { about } of same) times.set(about, (times.get(about) ?? 0) + 1);
  const unknown = times.get(null) ?? 0;
  const most = Math.max(0, ...[...times].map(([about, n]) => (about === null ? n : n + unknown)));
  if (most >= 2) raise('third-contact', WITHIN_THE_HOUR);
  raise('second-contact', PLANNED_VISIT);
}

/** What each concern that anything counted towards comes to by itself. */
function outcomeByConcern(scored: Scored): ReadonlyMap<string, Outcome> {
  const alone = new Map<string, Outcome>();
  const add = (about: string | null, to: Outcome): void => {
    if (about !== null) alone.set(about, worse(alone.get(about) ?? ADVISE, to));
  };
  for (const { rule, to } of scored.fired) add(rule.effect.concern, to);
  for (const { concern, to } of scored.crossed) add(concern.id, to);
  return alone;
}

/** The caller wants to know something about everyday life after the operation. */
export function asksEveryday(findings: Findings): boolean {
  return Object.entries(findings).some(([id, value]) => id.startsWith('asks-') && value === 'yes');
}

/** An everyday question, and nothing said that counts towards anything. */
export function isEverydayOnly(scored: Scored, findings: Findings): boolean {
  return asksEveryday(findings) && scored.fired.length === 0 && !Object.values(findings).includes(UNSURE);
}

/** A call that ended before its end: what was said stands, and somebody rings back. */
function cutOff(circumstances: Circumstances, scoring: Scoring, raise: Raise): 5 | 20 | null {
  if (circumstances.ending !== 'cut-off') return null;
  if (circumstances.silent) return silentCall(circumstances, raise);
  const unsure = Object.values(scoring.findings).includes(UNSURE);
  const worrying = scoring.scored.fired.length > 0 || unsure || circumstances.groupOpen;
  if (worrying) raise('cut-off-worrying', SAME_DAY);
  if (!circumstances.screenFinished) raise('cut-off-screen-unfinished', SAME_DAY);
  raise('cut-off-screen-finished', SAME_DAY);
  return worrying || !circumstances.screenFinished ? 5 : 20;
}

/** No word and no key at all: one call-back if the number belongs to a patient within day 84, else only logged. */
function silentCall(circumstances: Circumstances, raise: Raise): 20 | null {
  const recent = circumstances.times.some(({ day }) => day !== null && day >= 0 && day <= LAST_CLOT_DAY);
  if (!recent) return null;
  raise('cut-off-screen-unfinished', SAME_DAY);
  return 20;
}

function actFor(outcome: Outcome, seenAt: string | null): Act {
  switch (outcome.outcome) {
    case 'advise':
      return 'advice';
    case 'arrange-review':
      return 'review';
    case 'urgent-escalation':
      if (outcome.emergency) return 'ring-emergency';
      return seenAt === 'emergency-department' ? 'emergency-department' : 'on-call-now';
  }
}
