/** The first field of a call: what the caller says first, in their own words. */
import { useRef } from 'react';
import { WORDS } from '../../words.ts';
import { onEnter } from '../text-field.ts';
import type { Session } from './session.ts';

const W = WORDS.call;

export function OpeningCard({ session, pass }: { readonly session: Session; readonly pass: () => void }) {
  const words = useRef<HTMLTextAreaElement>(null);
  const send = (): void => {
    const text = words.current?.value.trim() ?? '';
    if (text === '') pass();
    else session.send({ kind: 'opening', text });
  };
  return (
    <form
      className="sheet question"
      onSubmit={(event) => {
        event.preventDefault();
        send();
      }}
    >
      <h2 className="ask">
        <label htmlFor="opening">{W.openingTitle}</label>
      </h2>
      <p className="hint">{W.openingHint}</p>
      <textarea id="opening" ref={words} rows={4} maxLength={4000} data-focus onKeyDown={onEnter(send)} />
      <div className="row">
        <button type="submit" className="main">
          <kbd>Enter</kbd> {W.openingSend}
        </button>
        <button type="button" onClick={pass}>
          {W.openingSkip}
        </button>
      </div>
    </form>
  );
}
