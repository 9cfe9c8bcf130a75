/** The one function that orders a call: what to ask next, or that the asking is over and why. Asking decides nothing. */
import { conditionHolds, findingsIn, testHolds } from '../clinical/condition.ts';
import { IMMEDIATE_DANGER, UNSURE, type FindingId, type Findings, type Test } from '../clinical/finding.ts';
import { isUrgent, worse, type Outcome } from '../clinical/outcome.ts';
import { holdsAt } from '../clinical/window.ts';
import type { FactId, Flow, Question, Rule } from '../flow/compiled.ts';
import { assess, isEverydayOnly } from './assess.ts';
import type { Circumstances } from './circumstances.ts';
import { ruleEffectAt, score } from './score.ts';

/** What has been put to the caller so far. */
export interface Asked {
  /** Question ids in the order in which they were first answered. */
  readonly questions: readonly string[];
  /** Facts that are known already (a number shown by the telephone, allergies on the record). */
  readonly facts: readonly FactId[];
}

export type Agenda =
  { readonly ask: Question } | { readonly finished: 'emergency' | 'urgent' | 'all-asked' | 'limit' };

export const QUESTION_LIMIT = 40;
/** What a call takes in which nothing is wrong, and one that only asks something of everyday life. */
export const MOST_ON_A_WELL_CALL = 14;
export const MOST_ON_AN_EVERYDAY_CALL = 8;

/** Only these are asked once the caller has been told to ring the emergency number. */
const EMERGENCY_FACTS: readonly FactId[] = [
  'call-back-number',
  'where-now',
  'who-with-you',
  'can-ring-yourself',
];
/** Asked at the first danger answered yes or unsure, before anything else. */
const FIRST_DANGER_FACTS: readonly FactId[] = ['where-now', 'who-with-you'];
const NUMBER: FactId = 'call-back-number';

export function agenda(flow: Flow, circumstances: Circumstances, findings: Findings, asked: Asked): Agenda {
  const state: State = { flow, circumstances, findings, asked: new Set(asked.questions), facts: asked.facts };
  const outcome = outcomeNow(state);
  if (outcome.emergency)
    return nextOf(state, factQuestions(flow, EMERGENCY_FACTS)) ?? { finished: 'emergency' };
  if (state.asked.size >= QUESTION_LIMIT) return { finished: 'limit' };
  if (isDangerHeard(flow, findings)) {
    const first = nextOf(state, factQuestions(flow, FIRST_DANGER_FACTS));
    if (first !== null) return first;
  }
  if (isUrgent(outcome)) {
    const raising = [...dueQuestions(state)].filter(
      (question) => question.opens === undefined && mayStillMakeEmergency(state, question),
    );
    // Without a number nobody can ring back, and without a name the clinician takes over a stranger.
    const number = state.asked.size === 0 ? [] : factQuestions(flow, [NUMBER]);
    const who = factQuestions(flow, [NUMBER, 'identity']);
    return (
      nextOf(state, [...number, ...raising, ...who, ...handoverQuestions(flow)]) ?? { finished: 'urgent' }
    );
  }
  return (
    nextOf(state, dueQuestions(state)) ??
    (isUrgentAllTheSame(state) ? nextOf(state, handoverQuestions(flow)) : null) ?? { finished: 'all-asked' }
  );
}

/** Urgent by circumstances alone, as when the clinic is closed or the patient rings a third time: handed over as well. */
function isUrgentAllTheSame({ flow, circumstances, findings }: State): boolean {
  // What is still to be asked goes by what the call would come to if it ended here.
  const ending = circumstances.ending === 'asking' ? 'finished' : circumstances.ending;
  const { outcome } = assess(flow, { ...circumstances, ending, lowered: null }, findings);
  return isUrgent(outcome);
}

interface Parts {
  readonly screen: readonly Question[];
  readonly groups: readonly Question[];
  /** What can be due while no group is open. */
  readonly unopened: readonly Question[];
  readonly number: readonly Question[];
  /** By finding, the rules about it that come to an emergency on some day. */
  readonly emergencies: ReadonlyMap<FindingId, readonly Rule[]>;
  /** By what stands for several questions, these. */
  readonly members: ReadonlyMap<string, readonly Question[]>;
}

const parts = new WeakMap<Flow, Parts>();

/** The questions that every turn looks at, picked out once for a flow that is frozen. */
function partsOf(flow: Flow): Parts {
  const known = parts.get(flow);
  if (known !== undefined) return known;
  const picked: Parts = {
    screen: flow.questions.filter(({ tier }) => tier === 'screen'),
    groups: flow.questions.filter(({ kind }) => kind === 'group'),
    unopened: flow.questions.filter((one) => one.tier !== 'handover' && !isOnlyOpened(one)),
    number: flow.questions.filter(({ fact }) => fact === NUMBER),
    emergencies: emergenciesOf(flow),
    members: new Map(
      flow.questions.flatMap(({ id, opens }) =>
        opens === undefined ? [] : [[id, flow.questions.filter((one) => opens.includes(one.id))]],
      ),
    ),
  };
  if (Object.isFrozen(flow)) parts.set(flow, picked);
  return picked;
}

function emergenciesOf({ rules }: Flow): ReadonlyMap<FindingId, readonly Rule[]> {
  const byFinding = new Map<FindingId, Rule[]>();
  for (const rule of rules) {
    if (rule.effect.kind !== 'red-flag' || !rule.effect.to.emergency) continue;
    for (const id of findingsIn(rule.if)) byFinding.set(id, [...(byFinding.get(id) ?? []), rule]);
  }
  return byFinding;
}

/** Whether every question of the danger screen is settled, whatever the order in which that came about. */
export function isScreenFinished(flow: Flow, findings: Findings): boolean {
  return partsOf(flow).screen.every((question) =>
    question.findings.every((id) => findings[id] !== undefined),
  );
}

/** Whether a group was answered yes or unsure and some of it is still not known. */
export function isGroupOpen(flow: Flow, findings: Findings, asked: Asked): boolean {
  return partsOf(flow).groups.some(
    (question) =>
      asked.questions.includes(question.id) && question.findings.some((id) => findings[id] === undefined),
  );
}

interface State {
  readonly flow: Flow;
  readonly circumstances: Circumstances;
  readonly findings: Findings;
  readonly asked: ReadonlySet<string>;
  readonly facts: readonly FactId[];
}

function nextOf(state: State, questions: Iterable<Question>): Agenda | null {
  for (const question of questions) if (!isSettled(state, question)) return { ask: question };
  return null;
}

function isSettled(state: State, question: Question): boolean {
  if (state.asked.has(question.id)) return true;
  if (question.fact !== null) return state.facts.includes(question.fact);
  return question.findings.every((id) => state.findings[id] !== undefined);
}

/** The findings' own outcome with what was told: asking stops at an urgent outcome that was told, too. */
function outcomeNow({ flow, circumstances, findings }: State): Outcome {
  const scored = circumstances.times.map((time) => score(flow, time, findings).outcome);
  const floors = [circumstances.told, circumstances.raised].filter((floor) => floor !== null);
  return [...scored, ...floors].reduce(worse);
}

function isDangerHeard(flow: Flow, findings: Findings): boolean {
  for (const id in findings) {
    const value = findings[id];
    if ((value === 'yes' || value === UNSURE) && flow.findings[id]?.group === IMMEDIATE_DANGER) return true;
  }
  return false;
}

function factQuestions(flow: Flow, facts: readonly FactId[]): readonly Question[] {
  return facts.flatMap((fact) => flow.questions.filter((question) => question.fact === fact));
}

function handoverQuestions(flow: Flow): readonly Question[] {
  return flow.questions.filter(({ tier, fact }) => tier === 'handover' && fact !== 'can-ring-yourself');
}

/**
 * Questions of the day that are not yet settled, in order; the number to ring back is always the second turn.
 * One by one, because mostly only the first is wanted.
 */
function* dueQuestions(state: State): Generator<Question> {
  const due: Due = {
    ...state,
    opened: openedByGroup(state),
    everyday: isEveryday(state),
    isTooMany: once(() => isTooMany(due)),
  };
  const { number } = partsOf(state.flow);
  const rest = otherQuestions(due);
  if (state.asked.size === 0) {
    const first = rest.next();
    if (first.done !== true) yield first.value;
  }
  for (const question of number) if (isDue(due, question)) yield question;
  yield* rest;
}

/** Those of a group that was opened stand before all others. */
function* otherQuestions(due: Due): Generator<Question> {
  const questions = mayBeDue(due);
  if (due.opened.size > 0) {
    for (const question of questions) if (isOpened(due, question) && isDue(due, question)) yield question;
  }
  for (const question of questions) {
    if (question.fact === NUMBER || isOpened(due, question) || !isDue(due, question)) continue;
    yield* whatMayLeaveItOut(due, question);
    yield question;
  }
}

function mayBeDue({ flow, opened }: Due): readonly Question[] {
  return opened.size === 0 ? partsOf(flow).unopened : flow.questions;
}

/** What decides whether a question is left out is asked before it, wherever its own place is. */
function* whatMayLeaveItOut(due: Due, { skipIf }: Question): Generator<Question> {
  if (skipIf === null) return;
  const unknown = findingsIn(skipIf).filter((id) => due.findings[id] === undefined);
  if (unknown.length === 0) return;
  for (const question of due.flow.questions) {
    const isAboutIt = question.kind === 'finding' && question.findings.some((id) => unknown.includes(id));
    if (isAboutIt && isDue(due, question)) yield question;
  }
}

interface Due extends State {
  readonly opened: ReadonlySet<FindingId>;
  readonly everyday: boolean;
  readonly isTooMany: () => boolean;
}

function once(decide: () => boolean): () => boolean {
  let decided: boolean | null = null;
  return () => (decided ??= decide());
}

/**
 * Questions are put together only where one by one they would come to more than such a call takes, and only while
 * nothing is wrong.
 */
function isTooMany(due: Due): boolean {
  const { flow, circumstances, findings } = due;
  const isWell = circumstances.times.every((time) => score(flow, time, findings).fired.length === 0);
  if (!isWell || Object.values(findings).includes(UNSURE)) return false;
  const most = due.everyday ? MOST_ON_AN_EVERYDAY_CALL : MOST_ON_A_WELL_CALL;
  const left = mayBeDue(due).filter((question) => question.opens === undefined && isDue(due, question));
  return answeredSoFar(due) + left.length > most;
}

/** The caller's first words answer the open question even when nobody had to put it. */
function answeredSoFar({ flow, asked, facts }: State): number {
  const isUnasked =
    facts.includes('opening') && !flow.questions.some((one) => one.fact === 'opening' && asked.has(one.id));
  return asked.size + (isUnasked ? 1 : 0);
}

/** All that it stands for is due or settled, none was put with others, and nothing of it is known to be other than normal. */
function isDueTogether(due: Due, together: Question): boolean {
  const { flow, asked, findings } = due;
  const { members } = partsOf(flow);
  const own = members.get(together.id) ?? [];
  const left = own.filter((member) => !isSettled(due, member));
  if (left.length < 2 || !left.every((member) => isDue(due, member))) return false;
  for (const id of asked) if (members.get(id)?.some((member) => own.includes(member)) === true) return false;
  const isNormal = together.findings.every(
    (id) => findings[id] === undefined || findings[id] === flow.findings[id]?.normal,
  );
  return isNormal && due.isTooMany();
}

function isOpened({ opened }: Due, question: Question): boolean {
  return opened.size > 0 && question.kind === 'finding' && question.findings.some((id) => opened.has(id));
}

/** A single question that stands there only to be opened by its group. */
export function isOnlyOpened(question: Question): boolean {
  if (question.kind !== 'finding') return false;
  return question.tier === 'screen' || (question.tier === 'pointed' && question.when === null);
}

function isDue(due: Due, question: Question): boolean {
  if (question.tier === 'handover') return false;
  if (isSettled(due, question)) return false;
  if (question.opens !== undefined) return isDueTogether(due, question);
  if (question.skipIf !== null && conditionHolds(question.skipIf, due.findings)) return false;
  if (isOpened(due, question)) return true;
  if (isOnlyOpened(question)) return false;
  if (due.everyday && (question.tier === 'likely' || question.tier === 'pointed')) return false;
  if (!due.circumstances.times.some((time) => holdsAt(question.window, time))) return false;
  return question.when === null || conditionHolds(question.when, due.findings);
}

/** The unsettled findings of groups that were answered yes or unsure. */
function openedByGroup(state: State): ReadonlySet<FindingId> {
  const opened = new Set<FindingId>();
  for (const question of partsOf(state.flow).groups) {
    if (question.opens !== undefined) continue;
    if (!state.asked.has(question.id)) continue;
    for (const id of question.findings) if (state.findings[id] === undefined) opened.add(id);
  }
  return opened;
}

function isEveryday({ flow, circumstances, findings }: State): boolean {
  return circumstances.times.every((time) => isEverydayOnly(score(flow, time, findings), findings));
}

/** Whether an answer to it could still turn urgent into an emergency by a rule of this flow on this day. */
function mayStillMakeEmergency(state: State, question: Question): boolean {
  const { emergencies } = partsOf(state.flow);
  return question.findings.some((id) =>
    (emergencies.get(id) ?? []).some(
      (rule) => makesEmergency(state, rule) && couldStillHold(state, rule, id),
    ),
  );
}

function makesEmergency(state: State, rule: Rule): boolean {
  if (rule.effect.kind !== 'red-flag' || !rule.effect.to.emergency) return false;
  return state.circumstances.times.some((time) => ruleEffectAt(rule, time)?.to.emergency === true);
}

function couldStillHold(state: State, rule: Rule, id: FindingId): boolean {
  return rule.if.some(
    (row) =>
      row.some((test) => test.finding === id) && row.every((test) => isOpenOrHolds(test, state.findings)),
  );
}

function isOpenOrHolds(test: Test, findings: Findings): boolean {
  return findings[test.finding] === undefined || testHolds(test, findings);
}
