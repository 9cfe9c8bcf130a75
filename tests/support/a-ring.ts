/** One call as a test plays it: every word of it goes through the one door, and what it stands at is what came back. */
import { newId, type CallId, type OperationId, type PatientId } from '../../src/basics/ids.ts';
import type { Fault } from '../../src/basics/fault.ts';
import type { Result } from '../../src/basics/result.ts';
import type { Actor } from '../../src/call/call-store.ts';
import type { EarlierCall } from '../../src/call/circumstances.ts';
import type { TurnInput } from '../../src/call/input.ts';
import { turn, type TurnDeps, type TurnDone } from '../../src/call/turn.ts';
import type { FindingValue } from '../../src/clinical/finding.ts';
import { rank, type Outcome } from '../../src/clinical/outcome.ts';
import type { FactId, Question } from '../../src/flow/compiled.ts';

export const NUMBER = '+447700900123';

/** What a caller answers, by finding; everything else is answered with its normal value. */
export type Says = Readonly<Record<string, FindingValue>>;

const FACT_TEXTS: Readonly<Record<FactId, string>> = {
  'call-back-number': '07700 900456',
  identity: 'Ottilie Brackwater, the ninth of June',
  opening: 'It feels odd since this morning',
  'where-now': 'at home in the kitchen',
  'who-with-you': 'my sister',
  'can-ring-yourself': 'yes',
  'last-food-drink': 'tea at nine',
  'can-travel': 'my sister drives',
  allergies: 'penicillin',
};

export interface Operated {
  readonly procedures?: readonly string[];
  readonly day?: number | null;
  readonly hours?: number | null;
  /** Instead of day and hours: every reading of when it was. */
  readonly times?: readonly { readonly day: number | null; readonly hours: number | null }[];
  readonly clinic?: 'open' | 'closed';
  readonly earlierCalls?: readonly EarlierCall[];
  readonly known?: Says;
}

interface Beginning {
  /** The voice line, where no nurse takes the call. */
  readonly by?: 'line';
  readonly call?: CallId;
  /** As the telephone shows it; null when it is withheld. */
  readonly number?: string | null;
  /** The operation, known from the start; null leaves the call unidentified. */
  readonly operated?: Operated | null;
}

export async function aRing(deps: TurnDeps, changes: Beginning = {}): Promise<Ring> {
  const channel = changes.by ?? 'desk';
  const ring = new Ring(deps, changes.call ?? newId<CallId>(), changes.by);
  const callerNumber = changes.number === undefined ? NUMBER : changes.number;
  await ring.says({ kind: 'start', channel, direction: 'patient-rang', callerNumber });
  if (changes.operated !== null) await ring.operated(changes.operated ?? {});
  return ring;
}

export class Ring {
  readonly #deps: TurnDeps;
  #last: TurnDone | null = null;
  /** Ids of the questions in the order in which they were answered, each time. */
  readonly answered: string[] = [];
  readonly call: CallId;
  readonly by: Actor;

  constructor(deps: TurnDeps, call: CallId, by: Actor = 'user:nurse') {
    this.#deps = deps;
    this.call = call;
    this.by = by;
  }

  get done(): TurnDone {
    if (this.#last === null) throw new Error('Nothing has been said in this call yet');
    return this.#last;
  }

  get question(): string | null {
    return this.done.standing.question?.id ?? null;
  }

  get outcome(): Outcome {
    return this.done.standing.assessment.outcome;
  }

  /** `urgent-escalation/1-hour`, or `urgent-escalation/now/emergency`. */
  get result(): string {
    const { outcome, within, emergency } = this.outcome;
    return [outcome, within, ...(emergency ? ['emergency'] : [])].join('/');
  }

  get rank(): number {
    return rank(this.outcome);
  }

  get reasons(): readonly string[] {
    return this.done.standing.assessment.reasons.map(({ from }) => from);
  }

  /** One turn; what the door answers, refusals included. */
  async tries(input: TurnInput, token: string = newId()): Promise<Result<TurnDone, Fault>> {
    const done = await turn(this.#deps, { call: this.call, token, by: this.by, input });
    if (done.ok) this.#last = done.value;
    return done;
  }

  /** One turn that the call must take. */
  async says(input: TurnInput): Promise<this> {
    const done = await this.tries(input);
    if (!done.ok) throw new Error(`${input.kind} was refused: ${done.fault.message}`);
    return this;
  }

  operated(operated: Operated): Promise<this> {
    const { procedures, day = 1, hours = null, clinic, earlierCalls, known } = operated;
    return this.says({
      kind: 'operation',
      operation: {
        procedures: [...(procedures ?? ['breast-lift'])],
        times: [...(operated.times ?? [{ day, hours }])],
        clinic: clinic ?? 'open',
        earlierCalls: [...(earlierCalls ?? [])],
        known: { ...known },
        facts: {},
      },
    });
  }

  identify(
    patientId: PatientId,
    operationId: OperationId,
    statedDates: readonly string[] = [],
  ): Promise<this> {
    return this.says({ kind: 'identify', patientId, operationId, statedDates: [...statedDates] });
  }

  volunteers(findings: Says, correction: 'mis-keyed' | 'taken-back' | null = null): Promise<this> {
    return this.says({ kind: 'volunteer', findings: { ...findings }, words: null, correction });
  }

  answer(question: string, value: FindingValue, correction: 'mis-keyed' | 'taken-back' | null = null) {
    return this.says({ kind: 'answer', question, value, correction });
  }

  /** Answers the question that is put now; "I don't know" is said as often as it is asked. */
  async answerNext(says: Says = {}): Promise<void> {
    const { question } = this.done.standing;
    if (question === null) throw new Error('No question is put');
    this.answered.push(question.id);
    if (question.fact !== null) {
      await this.says({ kind: 'fact', question: question.id, text: FACT_TEXTS[question.fact] });
    } else await this.answer(question.id, this.#valueFor(question, says));
  }

  /** Answers until the asking is over, or until the named question is put. */
  async answerAll(says: Says = {}, until: string | null = null): Promise<this> {
    for (let n = 0; n < 100 && this.question !== null && this.question !== until; n += 1) {
      await this.answerNext(says);
    }
    return this;
  }

  #valueFor(question: Question, says: Says): FindingValue {
    if (question.kind === 'group') {
      return question.findings.some((id) => says[id] !== undefined && says[id] !== 'no') ? 'yes' : 'no';
    }
    const [finding = ''] = question.findings;
    const spec = this.done.runner.compiled.flow.findings[finding];
    return says[finding] ?? spec?.normal ?? 'unsure';
  }
}
