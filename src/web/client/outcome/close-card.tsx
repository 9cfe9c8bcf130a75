/** Closing: what is still needed, the number to ring back, that the caller has understood, what was agreed. */
import { useState } from 'react';
import type { CallView, ResultShape } from '../../../desk/contract/call-view.ts';
import { WORDS } from '../../words.ts';
import type { Session } from '../call/session.ts';

const W = WORDS.call;

interface Closing {
  readonly view: CallView;
  readonly result: ResultShape;
  readonly session: Session;
}

export function CloseCard({ view, result, session }: Closing) {
  const [understood, setUnderstood] = useState(false);
  const [agreed, setAgreed] = useState('');
  const [slot, setSlot] = useState('');
  const choose = (shown: string): void => {
    setSlot(shown);
    setAgreed(shown === '' ? laterText(view) : `${W.visitAt} ${shown}.`);
  };
  const close = (): void => {
    if (slot !== '') {
      session.send({ kind: 'promise-kept', promise: 'review', result: 'booked', text: slot });
    }
    session.send({ kind: 'close', understood, agreed: agreed.trim() });
  };
  const needs = view.closingNeeds.filter((need) => need !== 'understood');
  return (
    <section className="sheet close-card">
      <h2>{W.closeTitle}</h2>
      {needs.length > 0 && (
        <>
          <p>{W.stillNeeded}</p>
          <ul className="needs">
            {needs.map((need) => (
              <li key={need}>{WORDS.needs[need]}</li>
            ))}
          </ul>
        </>
      )}
      <p>
        {W.callBack}: <strong>{view.callBackNumber ?? W.callBackUnknown}</strong>{' '}
        <ChangeNumber view={view} session={session} />
      </p>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          close();
        }}
      >
        {result.slots.length > 0 && (
          <label className="field">
            <span>{W.visit}</span>
            <select value={slot} onChange={(event) => choose(event.target.value)}>
              <option value="">{`${W.visitLater} ${dueText(view)}`}</option>
              {result.slots.map(({ at, shown }) => (
                <option key={at}>{shown}</option>
              ))}
            </select>
          </label>
        )}
        <label className="field">
          <span>{W.agreed}</span>
          <textarea
            id="agreed"
            rows={2}
            maxLength={4000}
            value={agreed}
            aria-describedby="agreed-hint"
            onChange={(event) => setAgreed(event.target.value)}
          />
        </label>
        <p className="hint" id="agreed-hint">
          {W.agreedHint}
        </p>
        <label className="tick">
          <input
            type="checkbox"
            id="understood"
            checked={understood}
            onChange={(event) => setUnderstood(event.target.checked)}
          />{' '}
          {W.understood}
        </label>
        <button type="submit" className="main">
          {W.close}
        </button>
      </form>
    </section>
  );
}

function dueText(view: CallView): string {
  const review = view.promises.find(({ kind, state }) => kind === 'review' && state === 'open');
  return review?.due?.shown ?? WORDS.promise.noTime;
}

function laterText(view: CallView): string {
  return `${W.visitBy} ${dueText(view)}.`;
}

function ChangeNumber({ view, session }: Pick<Closing, 'view' | 'session'>) {
  const { callBackQuestion: question } = view;
  if (question === null) return null;
  return (
    <button type="button" className="quiet" onClick={() => session.press({ kind: 'reopen', question })}>
      {W.change}
    </button>
  );
}
