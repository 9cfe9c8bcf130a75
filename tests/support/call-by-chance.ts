/**
 * A call made by chance, sent to the machine event by event, with a plain book kept beside it: what is known, what was
 * asked. After each event the two deciding functions are asked about the book, and the machine has to stand where they say.
 */
import {
  onGrid,
  UNSURE,
  type FindingId,
  type FindingValue,
  type Findings,
} from '../../src/clinical/finding.ts';
import type { Outcome } from '../../src/clinical/outcome.ts';
import type { TimeSince } from '../../src/clinical/window.ts';
import { agenda } from '../../src/call/agenda.ts';
import { assess } from '../../src/call/assess.ts';
import { freshCircumstances, type Circumstances } from '../../src/call/circumstances.ts';
import type { MachineEvent } from '../../src/call/machine.ts';
import type { Snapshot } from '../../src/call/snapshot.ts';
import { begin, standingOf, step, type Runner } from '../../src/call/step.ts';
import type { FactId, Flow, Question } from '../../src/flow/compiled.ts';
import { POSSIBLE_TIMES } from '../../src/prove/times.ts';
import { valuesOf } from './every-answer.ts';
import type { Seeded } from './seeded.ts';

/** What the book says and what the machine says, after the same events. */
export interface Agreement {
  readonly expected: Place;
  readonly found: Place;
}

export interface Place {
  readonly question: string | null;
  /** Null while the asking goes on. */
  readonly outcome: Outcome | null;
  readonly asked: readonly string[];
}

interface Book {
  readonly findings: Record<FindingId, FindingValue>;
  readonly asked: string[];
  readonly facts: FactId[];
  readonly time: TimeSince;
  /** Findings that a group's "no" settled; any other answer to a group that names them opens them again. */
  readonly byGroup: Set<FindingId>;
  /** The question that was answered "I don't know" once. */
  again: string | null;
  limitReached: boolean;
  /** On nine days of ten the deciding functions may keep what they made of the findings, as in the machine; else they start anew. */
  readonly isKept: boolean;
}

/** The book as it is read. */
type Noted = Pick<Book, 'asked' | 'time' | 'limitReached'> & { readonly findings: Findings };

const MOST_EVENTS = 120;

/** Every place at which the call stood, as the book has it and as the machine has it. */
export function callByChance(runner: Runner, chance: Seeded): readonly Agreement[] {
  const { flow } = runner.compiled;
  const time = chance.pick(POSSIBLE_TIMES);
  const book: Book = {
    findings: {},
    asked: [],
    facts: [],
    time,
    byGroup: new Set(),
    again: null,
    limitReached: false,
    isKept: (time.day ?? 0) % 10 !== 9,
  };
  const places: Agreement[] = [];
  let snapshot = sent(runner, begin(runner), {
    type: 'IDENTIFIED',
    times: [time],
    clinic: 'open',
    earlierCalls: [],
    known: {},
    facts: {},
  });
  for (let events = 0; events < MOST_EVENTS; events += 1) {
    const findings = book.isKept ? Object.freeze({ ...book.findings }) : book.findings;
    const next = nextQuestion(flow, book, findings);
    places.push({ expected: placeOf(flow, { ...book, findings }, next), found: placeIn(runner, snapshot) });
    if (next === null) break;
    const event = chance.next() < 0.1 ? volunteer(flow, book, chance) : answer(flow, { book, next }, chance);
    snapshot = sent(runner, snapshot, event);
  }
  return places;
}

function sent(runner: Runner, snapshot: Snapshot, event: MachineEvent): Snapshot {
  const next = step(runner, snapshot, event);
  if (!next.ok) throw new Error(`The machine does not take ${event.type}`);
  return next.value;
}

function circumstances(book: Pick<Book, 'time' | 'limitReached'>): Circumstances {
  return { ...freshCircumstances(book.time), limitReached: book.limitReached };
}

function nextQuestion(flow: Flow, book: Book, findings: Findings): Question | null {
  if (book.again !== null && book.asked.includes(book.again)) {
    return flow.questions.find(({ id }) => id === book.again) ?? null;
  }
  const next = agenda(flow, circumstances(book), findings, { questions: book.asked, facts: book.facts });
  if ('ask' in next) return next.ask;
  book.limitReached = next.finished === 'limit';
  return null;
}

function placeOf(flow: Flow, book: Noted, next: Question | null): Place {
  return {
    question: next?.id ?? null,
    outcome: next === null ? assess(flow, circumstances(book), book.findings).outcome : null,
    asked: [...book.asked],
  };
}

function placeIn(runner: Runner, snapshot: Snapshot): Place {
  const standing = standingOf(runner, snapshot);
  return {
    question: standing.question?.id ?? null,
    outcome: standing.question === null ? standing.assessment.outcome : null,
    asked: standing.context.asked,
  };
}

/** A finding that is not known yet, told without being asked. */
function volunteer(flow: Flow, book: Book, chance: Seeded): MachineEvent {
  const open = Object.values(flow.findings).filter(({ id }) => book.findings[id] === undefined);
  const spec = chance.pick(open);
  const value = onGrid(spec, chance.pick(valuesOf(spec)));
  note(book, spec.id, value);
  return { type: 'SETTLE', findings: { [spec.id]: value }, how: 'volunteered', correction: 'taken-back' };
}

function answer(
  flow: Flow,
  { book, next }: { readonly book: Book; readonly next: Question },
  chance: Seeded,
): MachineEvent {
  if (next.fact !== null) {
    book.asked.push(next.id);
    book.facts.push(next.fact);
    return { type: 'FACT', question: next.id, text: 'said' };
  }
  const value = chosen(flow, next, chance);
  const event: MachineEvent = { type: 'ANSWER', question: next.id, value, correction: 'mis-keyed' };
  if (next.kind === 'group') {
    book.asked.push(next.id);
    book.again = null;
    if (value === 'no') {
      for (const id of next.findings) {
        if (book.findings[id] !== undefined) continue;
        book.findings[id] = flow.findings[id]?.normal ?? UNSURE;
        book.byGroup.add(id);
      }
    } else {
      for (const id of next.findings.filter((named) => book.byGroup.delete(named))) {
        Reflect.deleteProperty(book.findings, id);
      }
    }
    return event;
  }
  const [id = ''] = next.findings;
  const isFirst = book.again !== next.id && flow.findings[id]?.kind !== 'number';
  if (value === UNSURE && isFirst) {
    book.again = next.id;
    return event;
  }
  book.again = null;
  if (!book.asked.includes(next.id)) book.asked.push(next.id);
  note(book, id, value);
  return event;
}

/** Mostly reassuring, so that calls grow long. */
function chosen(flow: Flow, question: Question, chance: Seeded): FindingValue {
  if (question.kind === 'group') return chance.pick(['no', 'no', 'no', 'no', 'no', 'yes', UNSURE]);
  const [id = ''] = question.findings;
  const spec = flow.findings[id];
  if (spec === undefined || chance.next() < 0.15) return UNSURE;
  return chance.next() < 0.6 ? spec.normal : onGrid(spec, chance.pick(valuesOf(spec)));
}

/** When the patient comes to the telephone the patient is the caller. */
function note(book: Book, id: FindingId, value: FindingValue): void {
  book.byGroup.delete(id);
  book.findings[id] = value;
  if (id === 'patient-voice' && value === 'comes-to-phone') book.findings['caller-is'] = 'patient';
}
