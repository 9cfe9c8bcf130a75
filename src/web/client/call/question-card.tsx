/** The question of the moment: words to read aloud, the answers with their keys, why, and what "I don't know" means. */
import type { KeyboardEvent } from 'react';
import type { CallView, Option, QuestionShape } from '../../../desk/contract/call-view.ts';
import { WORDS } from '../../words.ts';
import type { Keys } from '../keys.ts';
import { say } from '../say.ts';
import { answerInput } from './answer-input.ts';
import { IdentityCard } from './identity-card.tsx';
import { NumberAnswer } from './number-answer.tsx';
import type { Session } from './session.ts';
import { TextAnswer } from './text-answer.tsx';

const W = WORDS.call;
const LETTERS: Readonly<Record<string, string>> = { yes: 'y', no: 'n', unsure: 'u' };

export interface Questioning {
  readonly view: CallView;
  readonly question: QuestionShape;
  readonly session: Session;
}

export function QuestionCard({ view, question, session }: Questioning) {
  return (
    <section
      className={question.danger ? 'sheet question danger' : 'sheet question'}
      aria-labelledby="question"
      data-question={question.id}
    >
      <p className="label">{question.danger ? W.readAloudDanger : W.readAloud}</p>
      <h2 id="question" className="aloud" tabIndex={-1} data-focus={takesKeys(question) ? true : undefined}>
        {question.words}
      </h2>
      {question.again && <p className="notice">{W.again}</p>}
      <Answers view={view} question={question} session={session} />
      <dl className="why">
        <Fact name={W.why} texts={[question.why]} />
        <Fact name={W.normal} texts={view.normal} />
        <Fact name={W.meant} texts={question.members} />
        <Fact name={W.unsure} texts={[question.unsureMeans]} />
      </dl>
      {view.mayGoBack && (
        <button type="button" className="quiet back" onClick={() => session.press({ kind: 'back' })}>
          <kbd>⌫</kbd> {W.back}
        </button>
      )}
    </section>
  );
}

/** Single keys answer when there are answers to pick from; where something is typed the field has the keys. */
function takesKeys(question: QuestionShape): boolean {
  return question.kind !== 'fact' && question.number === null;
}

function Fact({ name, texts }: { readonly name: string; readonly texts: readonly string[] }) {
  const said = texts.filter((text) => text !== '');
  if (said.length === 0) return null;
  return (
    <div>
      <dt>{name}</dt>
      {said.map((text) => (
        <dd key={text}>{text}</dd>
      ))}
    </div>
  );
}

function Answers({ view, question, session }: Questioning) {
  if (question.fact === 'identity') return <IdentityCard view={view} question={question} session={session} />;
  if (question.kind === 'fact') return <TextAnswer question={question} session={session} />;
  if (question.number !== null)
    return <NumberAnswer question={question} limits={question.number} session={session} />;
  return (
    <div className="answers" role="group" aria-label={W.answers}>
      {question.options.map((option, at) => (
        <button
          key={option.value}
          type="button"
          className={option.value === 'unsure' ? 'answer unsure' : 'answer'}
          onKeyDown={question.danger ? refuseEnter : undefined}
          onClick={() => session.press(answerInput(question, option))}
        >
          <kbd>{keyOf(option, at).toUpperCase()}</kbd> {option.label}
        </button>
      ))}
    </div>
  );
}

/** A danger question is answered by the key of its answer, never by the key that moves on. */
function refuseEnter(event: KeyboardEvent): void {
  if (event.key !== 'Enter') return;
  event.preventDefault();
  say(W.ownKey);
}

function keyOf(option: Option, at: number): string {
  return LETTERS[String(option.value)] ?? String(at + 1);
}

/** Digits pick by place, letters pick yes, no and unsure. */
export function questionKeys(question: QuestionShape, session: Session): Keys {
  const keys: Record<string, () => void> = {};
  if (question.kind === 'fact') return keys;
  for (const [at, option] of question.options.entries()) {
    const send = (): void => session.press(answerInput(question, option));
    if (at < 9 && question.number === null) keys[String(at + 1)] = send;
    const letter = LETTERS[String(option.value)];
    if (letter !== undefined) keys[letter] = send;
  }
  if (question.danger) keys['Enter'] = () => say(W.ownKey);
  return keys;
}
