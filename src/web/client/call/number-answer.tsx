/** A number typed, within its limits; or one of the answers that stand for no number. */
import { useRef, useState } from 'react';
import type { QuestionShape } from '../../../desk/contract/call-view.ts';
import { WORDS } from '../../words.ts';
import { answerInput, typedNumber } from './answer-input.ts';
import type { Session } from './session.ts';

const W = WORDS.call;

interface Typing {
  readonly question: QuestionShape;
  readonly limits: NonNullable<QuestionShape['number']>;
  readonly session: Session;
}

export function NumberAnswer({ question, limits, session }: Typing) {
  const input = useRef<HTMLInputElement>(null);
  const [invalid, setInvalid] = useState(false);
  const send = (): void => {
    const value = typedNumber(input.current?.value ?? '');
    setInvalid(value === null);
    if (value === null) input.current?.focus();
    else session.send({ kind: 'answer', question: question.id, value, correction: null });
  };
  return (
    <form
      className="answers"
      onSubmit={(event) => {
        event.preventDefault();
        send();
      }}
    >
      <label className="typed">
        <span>{W.number}</span>
        <input
          id="number"
          ref={input}
          type="text"
          inputMode="decimal"
          autoComplete="off"
          data-focus
          aria-describedby="limits"
          aria-invalid={invalid}
        />
        <span id="limits" className="hint">
          {`${limits.min ?? ''} – ${limits.max ?? ''} ${limits.unit ?? ''}`.trim()}
        </span>
      </label>
      <button type="submit" className="main">
        <kbd>Enter</kbd> {W.next}
      </button>
      {question.options.map((option) => (
        <button
          key={option.value}
          type="button"
          className="answer unsure"
          onClick={() => session.press(answerInput(question, option))}
        >
          {option.label}
        </button>
      ))}
    </form>
  );
}
