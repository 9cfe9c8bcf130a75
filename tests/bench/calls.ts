/** Calls as the load plays them: begun, opened with a caller's words, every question answered, told, closed. */
import { newId } from '../../src/basics/ids.ts';
import type { TurnInput } from '../../src/call/input.ts';
import type { FlowLibrary } from '../../src/flow/library.ts';
import type { Flow, Question } from '../../src/flow/compiled.ts';
import type { Answer, Connection } from './http-connection.ts';

export type ServerKind = 'bare' | 'turn' | 'desk';

export interface Chosen {
  readonly patient: string;
  readonly operation: string;
}

export interface PlayedCall {
  /** Sends the next turn; false when the call is over. */
  readonly next: (connection: Connection) => Promise<boolean>;
}

export const OPENINGS = [
  'It is only a small thing, the tape on one side is coming off and I wondered what to do',
  'When can I drive again please',
  'I feel fine really, a bit sore, nothing much',
  'My chest feels a bit tight under the bra and I did not sleep well',
];
const NUMBER = '+447700900123';

/** The reassuring answer to every question, by its id. */
export type Answers = ReadonlyMap<string, TurnInput>;

export function reassuringAnswers({ general, flowFor }: FlowLibrary): Answers {
  const flows = [general.flow, flowFor(['breast-lift']).flow];
  return new Map(
    flows.flatMap((flow) => flow.questions.map((one) => [one.id, reassuring(flow, one)] as const)),
  );
}

function reassuring(flow: Flow, question: Question): TurnInput {
  if (question.fact === 'opening') return { kind: 'opening', text: 'Nothing else' };
  if (question.fact !== null) return { kind: 'fact', question: question.id, text: 'At home, nobody, no' };
  const spec = flow.findings[question.findings[0] ?? ''];
  const value = question.kind === 'group' ? 'no' : (spec?.normal ?? 'unsure');
  return { kind: 'answer', question: question.id, value, correction: null };
}

/** Rows of the same size as turns, for a route that only keeps them. */
export function bareCall(answers: Answers): PlayedCall {
  const path = `/api/calls/${newId()}/turns`;
  const inputs = [...answers.values()].slice(0, 16);
  let sent = 0;
  return {
    next: async (connection) => {
      const input = inputs[sent];
      if (input === undefined) return false;
      sent += 1;
      accepted(await connection.post(path, turnText(sent, input)));
      return true;
    },
  };
}

interface Beginning {
  readonly kind: 'turn' | 'desk';
  /** Null: the operation comes with the call. */
  readonly chosen: Chosen | null;
  readonly answers: Answers;
  /** Which of the openings is said. */
  readonly n: number;
}

/** A call that has begun and knows its operation; what remains are its turns. */
export async function begunCall(
  connection: Connection,
  { kind, chosen, answers, n }: Beginning,
): Promise<PlayedCall> {
  const call: string = newId();
  const path = `/api/calls/${call}/turns`;
  if (kind === 'desk') {
    const start = { call, token: newId(), callerNumber: NUMBER, direction: 'patient-rang', chosen };
    accepted(await connection.post('/api/calls', JSON.stringify(start)));
  } else {
    for (const [token, input] of OPENERS.entries()) {
      accepted(await connection.post(path, turnText(-token, input)));
    }
  }
  return played({ path, answers, opening: OPENINGS[n % OPENINGS.length] ?? '' });
}

const OPENERS: readonly TurnInput[] = [
  { kind: 'start', channel: 'desk', direction: 'patient-rang', callerNumber: NUMBER },
  {
    kind: 'operation',
    operation: {
      procedures: ['breast-lift'],
      times: [{ day: 6, hours: null }],
      clinic: 'open',
      earlierCalls: [],
      known: {},
      facts: {},
    },
  },
];

interface Playing {
  readonly path: string;
  readonly answers: Answers;
  readonly opening: string;
}

function played({ path, answers, opening }: Playing): PlayedCall {
  let next: TurnInput | null = { kind: 'opening', text: opening };
  let sent = 0;
  return {
    next: async (connection) => {
      if (next === null) return false;
      sent += 1;
      const answer = accepted(await connection.post(path, turnText(sent, next)));
      next = following(next, answer.body, answers);
      return true;
    },
  };
}

/** The reply stands first in every answer, and its question second in it. */
function following(last: TurnInput, body: string, answers: Answers): TurnInput | null {
  if (last.kind === 'tell') return { kind: 'note', text: 'The caller said it back rightly.' };
  if (last.kind === 'note') return null;
  const question = /"question":(?:"([^"]+)"|null)/.exec(body.slice(0, 300))?.[1];
  if (question === undefined) return { kind: 'tell' };
  const answer = answers.get(question);
  if (answer === undefined) throw new Error(`Nothing answers ${question}.`);
  return answer;
}

function turnText(token: number, input: TurnInput): string {
  return JSON.stringify({ token: `turn-token-${token}`, input });
}

function accepted(answer: Answer): Answer {
  if (answer.status === 200) return answer;
  throw new Error(`A turn was answered with ${answer.status}: ${answer.body.slice(0, 200)}`);
}
