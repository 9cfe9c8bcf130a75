/** How an answer changes what is known: settling, correcting, taking back, and withdrawing what hung on a corrected value. */
import { conditionHolds, findingsIn, testHolds } from '../clinical/condition.ts';
import { IMMEDIATE_DANGER, UNSURE, onGrid, type FindingId, type FindingValue } from '../clinical/finding.ts';
import { isAtLeastAsBad } from '../clinical/worse-value.ts';
import type { Flow, Question } from '../flow/compiled.ts';
import type { CallContext, Held } from './context.ts';
import { alarmTests } from './rule-index.ts';
import { findingsOf } from './standing.ts';

/** mis-keyed: the caller never said it. taken-back: said, and now denied; the cautious reading when nothing is given. */
export type Correction = 'mis-keyed' | 'taken-back';

export interface Settling {
  readonly finding: FindingId;
  readonly value: FindingValue;
  readonly how: Held['how'];
  readonly question: string | null;
  readonly correction: Correction;
}

const VOICE = 'patient-voice';

/** Settles one finding. A danger or red flag that is taken back goes on counting as it was said. */
export function settle(flow: Flow, context: CallContext, said: Settling): CallContext {
  const spec = flow.findings[said.finding];
  const settling = spec === undefined ? said : { ...said, value: onGrid(spec, said.value) };
  const before = context.held[settling.finding];
  const held = heldAfter(flow, before, settling);
  const affirmed = before?.takenBackTo !== null && held.takenBackTo === null;
  const changed = before?.value !== held.value || affirmed;
  const settled: CallContext = {
    ...context,
    held: { ...context.held, [settling.finding]: held },
    // A clinician lowered what was known then; what is learnt since is not covered by it.
    lowered: changed ? null : context.lowered,
    ending: context.ending === 'finished' ? 'asking' : context.ending,
  };
  const corrected = before !== undefined && before.value !== held.value;
  return handOver(corrected ? withdrawDependents(flow, settled, settling) : settled, settling);
}

/** When the patient comes to the telephone the answers are the patient's own from then on. */
function handOver(context: CallContext, settling: Settling): CallContext {
  if (settling.finding !== VOICE || settling.value !== 'comes-to-phone') return context;
  const held: Held = { value: 'patient', how: settling.how, question: settling.question, takenBackTo: null };
  return { ...context, held: { ...context.held, 'caller-is': held } };
}

function heldAfter(flow: Flow, before: Held | undefined, settling: Settling): Held {
  const { value, how, question } = settling;
  const plain: Held = { value, how, question, takenBackTo: null };
  // Said once more it stays what it was: a fact that was volunteered does not come to hang on a question.
  if (before?.value === value && before.how === 'volunteered') return { ...before, takenBackTo: null };
  if (before === undefined || settling.correction === 'mis-keyed' || before.value === value) return plain;
  const spec = flow.findings[settling.finding];
  const milder = spec === undefined || !isAtLeastAsBad(spec, before.value, value);
  return milder && mayAlarm(flow, settling.finding, before.value) ? { ...before, takenBackTo: value } : plain;
}

/** Whether this finding, with this value, is a danger or can make a red flag. */
function mayAlarm(flow: Flow, id: FindingId, value: FindingValue): boolean {
  return flow.findings[id]?.group === IMMEDIATE_DANGER ? value !== 'no' : isAlarming(flow, id, value);
}

function isAlarming(flow: Flow, id: FindingId, value: FindingValue): boolean {
  const tests = alarmTests(flow).get(id) ?? [];
  return tests.some((test) => testHolds(test, { [id]: value }));
}

type Corrected = Pick<Settling, 'finding' | 'correction'>;

/**
 * Findings that were asked only because of the corrected value are withdrawn; volunteered ones stay, and so does what
 * raised an alarm, unless its ground was only mis-keyed.
 */
function withdrawDependents(flow: Flow, context: CallContext, corrected: Corrected): CallContext {
  const stale = Object.entries(context.held).filter(
    ([id, held]) =>
      hangsOn(flow, context, { id, held, corrected: corrected.finding }) &&
      (corrected.correction === 'mis-keyed' || !mayAlarm(flow, id, held.value)),
  );
  if (stale.length === 0) return context;
  const gone = new Set(stale.map(([id]) => id));
  const questions = new Set(stale.map(([, held]) => held.question));
  const next: CallContext = {
    ...context,
    held: Object.fromEntries(Object.entries(context.held).filter(([id]) => !gone.has(id))),
    asked: context.asked.filter((id) => !questions.has(id)),
  };
  return stale.reduce(
    (reduced, [finding]) => withdrawDependents(flow, reduced, { ...corrected, finding }),
    next,
  );
}

interface Hanging {
  readonly id: FindingId;
  readonly held: Held;
  readonly corrected: FindingId;
}

function hangsOn(flow: Flow, context: CallContext, { id, held, corrected }: Hanging): boolean {
  if (held.how !== 'asked' && held.how !== 'group') return false;
  const question = flow.questions.find(({ id }) => id === held.question);
  if (question === undefined) return false;
  const by = question.opens === undefined ? [question] : membersOf(flow, question, id);
  return by.every(({ when }) => {
    if (when === null || !findingsIn(when).includes(corrected)) return false;
    return !conditionHolds(when, findingsOf(context)) && !isOpenedByGroup(flow, context, question);
  });
}

/** Of what was put together, the questions that settle this finding. */
function membersOf(flow: Flow, { opens = [] }: Question, finding: FindingId): readonly Question[] {
  return flow.questions.filter(({ id, findings }) => opens.includes(id) && findings.includes(finding));
}

function isOpenedByGroup(flow: Flow, context: CallContext, question: Question): boolean {
  return flow.questions.some(
    (group) =>
      group.kind === 'group' &&
      group.opens === undefined &&
      context.asked.includes(group.id) &&
      question.findings.some((id) => group.findings.includes(id)),
  );
}

interface GroupAnswer {
  readonly group: Question;
  readonly value: string;
}

/**
 * An answer to a group: "no" settles what is not known yet, anything else leaves it open to be asked one by one. What an
 * earlier group's "no" had settled is open again too: the caller may mean just that.
 */
export function answerGroup(flow: Flow, context: CallContext, { group, value }: GroupAnswer): CallContext {
  if (value !== 'no') {
    const held = Object.entries(context.held).filter(
      ([id, one]) => !(one.how === 'group' && group.findings.includes(id)),
    );
    return { ...context, held: Object.fromEntries(held) };
  }
  const open = group.findings.filter((id) => context.held[id] === undefined);
  return open.reduce((settled, finding) => {
    const normal = flow.findings[finding]?.normal ?? UNSURE;
    return settle(flow, settled, {
      finding,
      value: normal,
      how: 'group',
      question: group.id,
      correction: 'mis-keyed',
    });
  }, context);
}
