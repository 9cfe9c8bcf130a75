/** An answer in the caller's own words, or that it was asked and not answered. */
import { useRef } from 'react';
import type { QuestionShape } from '../../../desk/contract/call-view.ts';
import type { DeskInput } from '../../../desk/contract/turns.ts';
import { WORDS } from '../../words.ts';
import { onEnter } from '../text-field.ts';
import type { Session } from './session.ts';

const W = WORDS.call;

export function TextAnswer({
  question,
  session,
}: {
  readonly question: QuestionShape;
  readonly session: Session;
}) {
  const area = useRef<HTMLTextAreaElement>(null);
  const send = (): void => {
    const text = area.current?.value.trim() ?? '';
    if (text === '') area.current?.focus();
    else session.send(written(question, text));
  };
  return (
    <form
      className="answers"
      onSubmit={(event) => {
        event.preventDefault();
        send();
      }}
    >
      <textarea
        id="words"
        ref={area}
        rows={question.fact === 'call-back-number' ? 1 : 3}
        maxLength={4000}
        aria-label={W.text}
        data-focus
        onKeyDown={onEnter(send)}
      />
      <button type="submit" className="main">
        <kbd>Enter</kbd> {W.next}
      </button>
      {/* A number to ring back is a number; without one the question stays. */}
      {question.fact !== 'call-back-number' && (
        <button
          type="button"
          className="answer unsure"
          onClick={() => session.press(written(question, W.notAnswered))}
        >
          {W.notAnswered}
        </button>
      )}
    </form>
  );
}

/** The caller's own first words are understood as well as kept; other texts are only kept. */
function written(question: QuestionShape, text: string): DeskInput {
  return question.fact === 'opening'
    ? { kind: 'opening', text }
    : { kind: 'fact', question: question.id, text };
}
