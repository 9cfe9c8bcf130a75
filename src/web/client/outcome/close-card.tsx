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

export function CloseCard({ view, session }: Closing) {
  const [understood, setUnderstood] = useState(false);
  const [agreed, setAgreed] = useState('');
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
          session.send({ kind: 'close', understood, agreed: agreed.trim() });
        }}
      >
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

function ChangeNumber({ view, session }: Pick<Closing, 'view' | 'session'>) {
  const { callBackQuestion: question } = view;
  if (question === null) return null;
  return (
    <button type="button" className="quiet" onClick={() => session.press({ kind: 'reopen', question })}>
      {W.change}
    </button>
  );
}
